package server

import (
	"encoding/json"
	"fmt"
	"net/http"
	"time"
)

// heartbeat keeps a stream open through sleep and idle connections.
const heartbeat = 20 * time.Second

// registerEvents puts up the stream that tells pages what has moved on.
func (s *Server) registerEvents() {
	s.mux.HandleFunc("GET /api/events", s.events)
}

func (s *Server) events(w http.ResponseWriter, r *http.Request) {
	out := http.NewResponseController(w)
	events, leave := s.bench.Listen()
	defer leave()
	w.Header().Set("Content-Type", "text/event-stream")
	w.Header().Set("Cache-Control", "no-store")
	fmt.Fprint(w, ": listening\n\n")
	if out.Flush() != nil {
		return
	}
	beat := time.NewTicker(heartbeat)
	defer beat.Stop()
	for {
		select {
		case <-r.Context().Done():
			return
		case <-s.closing:
			return
		case <-beat.C:
			fmt.Fprint(w, ": still here\n\n")
		case e, ok := <-events:
			if !ok { // too slow: the page reads everything anew when it comes back
				return
			}
			text, err := json.Marshal(e)
			if err != nil {
				return
			}
			fmt.Fprintf(w, "data: %s\n\n", text)
		}
		if out.Flush() != nil {
			return
		}
	}
}
