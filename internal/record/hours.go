package record

// Spent is time that an operation took, as it was written down.
type Spent struct {
	Operation string  `yaml:"operation" need:"true" one:"design|break-down|kerf|bend|band|rough-cut|mill|size|joint|drill|shape|sand|dry-fit|glue-up|flush|fit|finish|assemble|deliver" doc:"the operation"`
	Hours     float64 `yaml:"hours" need:"true" min:"0.1" max:"10000" doc:"hours of work, waiting not counted"`
	Done      bool    `yaml:"done,omitempty" doc:"nothing more of it is to come: the figure takes the place of the estimate"`
	Note      string  `yaml:"note,omitempty" doc:"what made it quick or slow"`
}
