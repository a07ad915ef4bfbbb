package server

// routes puts up every area; each has a file of its own.
func (s *Server) routes() {
	s.registerPieces(s.api)
	s.registerDocs(s.api)
	s.registerLine(s.api)
	s.registerScene(s.api)
	s.registerEvents()
	s.registerPages()
}
