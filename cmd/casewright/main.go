// Command casewright plans furniture: a piece file goes in, shop papers come
// out.
package main

import (
	"os"

	"casewright/internal/cli"
)

func main() {
	os.Exit(cli.Run(os.Args[1:], cli.Streams{In: os.Stdin, Out: os.Stdout, Err: os.Stderr}))
}
