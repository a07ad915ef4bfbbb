package station

import (
	"strings"

	"casewright/internal/finding"
	"casewright/internal/plan"
)

// Stop is one station on the line along the top: how much is not settled
// there.
type Stop struct {
	At   string `json:"at"`
	Stop int    `json:"stop" doc:"findings that say stop"`
	Care int    `json:"care" doc:"findings to look at"`
}

// Line says for every place of work how many findings belong there.
func Line(p plan.Plan) []Stop {
	at := map[string]*Stop{}
	var out []Stop
	for _, name := range Places {
		out = append(out, Stop{At: name})
	}
	for i := range out {
		at[out[i].At] = &out[i]
	}
	for _, f := range p.Findings {
		s := at[PlaceOf(f)]
		switch f.Level {
		case finding.Stop:
			s.Stop++
		case finding.Care:
			s.Care++
		}
	}
	return out
}

// Places are the places of work in the order of the work.
var Places = []string{"desk", "yard", "saw", "bench", "glue-up", "finish", "delivery"}

// places says where a finding is looked at, by the beginning of its id;
// whatever else there is belongs to the desk, where sizes are changed.
var places = []struct{ begins, at string }{
	{"panel-", "yard"},
	{"board-", "yard"},
	{"price-", "yard"},
	{"no-price", "yard"},
	{"no-rates", "yard"},
	{"no-profit", "yard"},
	{"change-open", "yard"},
	{"fence-", "saw"},
	{"too-", "saw"},
	{"fit-", "bench"},
	{"opening-", "bench"},
	{"screw-", "bench"},
	{"machine-screw", "bench"},
	{"drill-", "bench"},
	{"pilot-", "bench"},
	{"shank-", "bench"},
	{"glue-", "glue-up"},
	{"clamp", "glue-up"},
	{"open-time", "glue-up"},
	{"finish-", "finish"},
	{"sanded-", "finish"},
	{"way-in", "delivery"},
	{"door-width", "delivery"},
	{"stair-width", "delivery"},
	{"tips-", "delivery"},
	{"in-use-", "delivery"},
	{"late", "delivery"},
}

// PlaceOf is the place of work where a finding is looked at.
func PlaceOf(f finding.Finding) string {
	for _, p := range places {
		if strings.HasPrefix(f.ID, p.begins) {
			return p.at
		}
	}
	return "desk"
}
