package server

// routes puts up every area; each has a file of its own.
func (s *Server) routes() {
	s.registerPieces(s.api)
	s.registerDocs(s.api)
	s.registerHome(s.api)
	s.registerHistory(s.api)
	s.registerChanges(s.api)
	s.registerLine(s.api)
	s.registerDesk(s.api)
	s.registerScene(s.api)
	s.registerDrawing(s.api)
	s.registerPapers(s.api)
	s.registerYard(s.api)
	s.registerBend(s.api)
	s.registerShop(s.api)
	s.registerDevices(s.api)
	s.registerSaw(s.api)
	s.registerBench(s.api)
	s.registerTicks(s.api)
	s.registerEvents()
	s.registerPages()
}
