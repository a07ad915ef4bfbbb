// Package demo holds the demo pieces and their shops, all invented, so that
// the workbench opens with something to look at.
package demo

import "embed"

// Files are the YAML files: NAME.yaml is a piece, NAME.shop.yaml its shop.
//
//go:embed *.yaml
var Files embed.FS
