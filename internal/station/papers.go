package station

import (
	"fmt"
	"strings"

	"casewright/internal/document"
	"casewright/internal/drawing"
	"casewright/internal/papers"
	"casewright/internal/plan"
)

// Papers are the printed sheets of a piece, in the order of the work.
type Papers struct {
	Answer string `json:"answer"`
	Paper  string `json:"paper" enum:"a4,letter"`
	Units  string `json:"units" enum:"mm,in" doc:"which lead"`
	Pages  int    `json:"pages"`
	// Templates says that there are templates at full size, for corners and
	// shaped parts.
	Templates bool        `json:"templates"`
	Papers    []PaperLine `json:"papers"`
}

// PaperLine is one paper: for one place of work, on one subject.
type PaperLine struct {
	Place string      `json:"place"`
	Title string      `json:"title"`
	Pages []PaperPage `json:"pages"`
}

// PaperPage is one side.
type PaperPage struct {
	Number int  `json:"number" doc:"from 1 through the whole set"`
	Across bool `json:"across" doc:"it lies on its long side"`
}

// PaperFile is one file to take along.
type PaperFile struct {
	Name string `json:"name" doc:"behind /api/pieces/{id}/files/"`
	Says string `json:"says"`
	Sort string `json:"sort" enum:"set,drawing,outline,data"`
}

// PapersPage lists the papers of a set that was composed with the options.
func PapersPage(set []papers.Paper, templates bool, opt papers.Options) Papers {
	out := Papers{Paper: opt.Paper, Units: opt.Units, Templates: templates, Papers: []PaperLine{}}
	places, last := 0, ""
	for _, paper := range set {
		line := PaperLine{Place: string(paper.Place), Title: document.Capital(paper.Name)}
		for _, s := range paper.Sheets {
			out.Pages++
			line.Pages = append(line.Pages, PaperPage{out.Pages, s.W > s.H})
		}
		if line.Place != last {
			places, last = places+1, line.Place
		}
		out.Papers = append(out.Papers, line)
	}
	paper := drawing.A4.Name
	if opt.Paper == "letter" {
		paper = drawing.Letter.Name
	}
	out.Answer = fmt.Sprintf("%s of %s for %s of work", document.Count(out.Pages, "page"), paper, document.Count(places, "place"))
	return out
}

// PaperFiles says what each file of a set is.
func PaperFiles(p plan.Plan, names []string) []PaperFile {
	out := make([]PaperFile, 0, len(names))
	for _, name := range names {
		out = append(out, fileSaid(p, name))
	}
	return out
}

// layoutSaid says what the layout of a file is of; empty for another file.
func layoutSaid(p plan.Plan, base string) string {
	for _, s := range p.Panels {
		for i := range s.Result.Layouts {
			if base == papers.LayoutFile(s.Key, i+1) {
				return fmt.Sprintf("Layout %d of %s", i+1, s.Name)
			}
		}
	}
	for _, w := range p.Woods {
		if w.Result == nil {
			continue
		}
		for i := range w.Result.Layouts {
			if base == papers.BoardFile(w.Key, w.Class, i+1) {
				return fmt.Sprintf("Layout %d of %s", i+1, w.Called())
			}
		}
	}
	return ""
}

// fileSaid says what a file is.
func fileSaid(p plan.Plan, name string) PaperFile {
	folder, file, _ := strings.Cut(name, "/")
	base, _, _ := strings.Cut(file, ".")
	if says := layoutSaid(p, base); says != "" {
		return PaperFile{name, says, strings.TrimSuffix(folder, "s")}
	}
	switch {
	case folder == "drawings":
		return PaperFile{name, document.Capital(strings.ReplaceAll(base, "-", " ")), "drawing"}
	case strings.HasPrefix(file, "part-"):
		letter := strings.TrimPrefix(base, "part-")
		for _, q := range p.Model.Parts {
			if strings.EqualFold(q.Letter, letter) {
				return PaperFile{name, "Outline of " + q.Letter + ", " + q.Name, "outline"}
			}
		}
		return PaperFile{name, "Outline of " + strings.ToUpper(letter), "outline"}
	case folder == "outlines":
		return PaperFile{name, document.Capital(strings.ReplaceAll(base, "-", " ")), "outline"}
	}
	says := map[string]string{
		"papers.pdf":    "All papers, to print",
		"templates.pdf": "Templates at full size, to print at 100 %",
		"model.glb":     "The piece in space (glTF)",
		"parts.csv":     "Parts list (CSV)",
		"findings.txt":  "What the checks found (text)",
		"plan.json":     "The whole plan (JSON)",
	}[name]
	sort := "data"
	if strings.HasSuffix(name, ".pdf") {
		sort = "set"
	}
	if says == "" {
		says = name
	}
	return PaperFile{name, says, sort}
}
