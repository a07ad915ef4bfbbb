package price

import "math"

// Hours is the work of one operation: setups once however many pieces are
// made together, the run for each piece. Minutes throughout.
type Hours struct {
	Operation string  // the word of the shop's times and of the record
	Name      string  // as it is read
	Setup     int64   // for all setups
	SetupEach float64 // for one of them; the shop's own times name it beside the run
	Run       float64 // for one piece
	Unit      string  // what the shop counts the run by
	Units     float64 // of them in one piece
	Spent     int64   // from the record, for all pieces
	Done      bool    // nothing more of it is to come
}

// For is the time for so many pieces made together, in whole minutes.
func (h Hours) For(pieces int) int64 {
	return h.Setup + int64(math.Ceil(h.Run*float64(pieces)-1e-9))
}
