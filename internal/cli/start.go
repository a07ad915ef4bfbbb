package cli

import (
	"fmt"
	"io"
	"text/tabwriter"

	"casewright/internal/app"
	"casewright/internal/bend"
	"casewright/internal/wood"
)

type newCmd struct {
	Shape string `arg:"" help:"What to start from: ${shapes}."`
	Units string `help:"Units of the file." enum:"mm,in" default:"mm"`
}

func (newCmd) Help() string {
	return "Example:\n  casewright new closed --units mm > cabinet.yaml\n  casewright new shop > cabinet.shop.yaml"
}

func (c newCmd) Run(std Streams) error {
	text, err := app.Start(c.Shape, c.Units)
	if err != nil {
		return err
	}
	_, err = std.Out.Write(text)
	return err
}

type schemaCmd struct {
	Of string `arg:"" help:"piece, shop or record for a schema; panels, woods or bends for a table." enum:"piece,shop,record,panels,woods,bends"`
}

func (schemaCmd) Help() string {
	return "Example:\n  casewright schema piece > piece.schema.json\n  casewright schema panels"
}

func (c schemaCmd) Run(std Streams) error {
	switch c.Of {
	case "panels":
		return table(std.Out, "key\tname\tdensity kg/m³\tsource", wood.AllPanels(), func(p wood.Panel) string {
			return fmt.Sprintf("%s\t%s\t%.0f\t%s", p.Key, p.Name, float64(p.Density), p.DensityBy)
		})
	case "woods":
		return table(std.Out, "key\tname\tdensity kg/m³\tsource", wood.AllSpecies(), func(s wood.Species) string {
			return fmt.Sprintf("%s\t%s\t%.0f\t%s", s.Key, s.Name, float64(s.Density), s.DensityBy)
		})
	case "bends":
		return table(std.Out, "key\tname\tsource", bend.Materials(), func(m bend.Material) string {
			return fmt.Sprintf("%s\t%s\t%s", m.Key, m.Name, m.Source)
		})
	}
	text, err := app.Schema(c.Of)
	if err != nil {
		return err
	}
	_, err = std.Out.Write(text)
	return err
}

func table[T any](w io.Writer, head string, rows []T, line func(T) string) error {
	tw := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(tw, head)
	for _, r := range rows {
		fmt.Fprintln(tw, line(r))
	}
	return tw.Flush()
}
