package station

import (
	"fmt"
	"slices"

	"casewright/internal/document"
	"casewright/internal/plan"
)

// Changes is what became of a plan: old and new beside each other, by place of
// work and thing.
type Changes struct {
	Answer   string        `json:"answer"`
	Line     string        `json:"line" doc:"the answer as a line beside other things"`
	Numbers  int           `json:"numbers" doc:"figures that changed"`
	Words    int           `json:"words" doc:"texts that changed"`
	Findings int           `json:"findings" doc:"findings that came, went or read otherwise"`
	Papers   []string      `json:"papers" doc:"papers that read otherwise"`
	Places   []ChangePlace `json:"places" doc:"in the order of the work; only those where something changed"`
}

// ChangePlace is what changed at one place of work.
type ChangePlace struct {
	At     string        `json:"at"`
	Count  int           `json:"count"`
	Things []ChangeThing `json:"things"`
}

// ChangeThing is what changed of one thing: a part, a setting, a line.
type ChangeThing struct {
	About string        `json:"about"`
	All   []plan.Change `json:"changes"`
}

// ChangesOf compares two plans; papers are those that read otherwise.
func ChangesOf(before, after plan.Plan, papers []string) Changes {
	all := plan.Diff(before, after)
	out := Changes{Papers: slices.Concat([]string{}, papers), Places: []ChangePlace{}}
	for _, c := range all {
		switch c.Kind {
		case plan.Text:
			out.Words++
		case plan.Found:
			out.Findings++
		default:
			out.Numbers++
		}
	}
	for _, g := range plan.Grouped(all) {
		p := ChangePlace{At: g.Where, Count: g.Count}
		for _, c := range g.Changes {
			i := slices.IndexFunc(p.Things, func(t ChangeThing) bool { return t.About == c.About })
			if i < 0 {
				i = len(p.Things)
				p.Things = append(p.Things, ChangeThing{About: c.About})
			}
			p.Things[i].All = append(p.Things[i].All, c)
		}
		out.Places = append(out.Places, p)
	}
	out.Line = fmt.Sprintf("%s and %s changed", document.Count(out.Numbers, "number"), document.Count(len(papers), "paper"))
	switch {
	case len(all) == 0 && len(papers) == 0:
		out.Line, out.Answer = "nothing in the plan changed", "Nothing in the plan changed."
	case out.Findings > 0:
		out.Answer = fmt.Sprintf("%s and %s changed, with %s.", document.Count(out.Numbers, "number"), document.Count(len(papers), "paper"), document.Count(out.Findings, "finding"))
	default:
		out.Answer = document.Capital(out.Line) + "."
	}
	return out
}
