package cli

import (
	"context"
	"encoding/json"
	"fmt"
	"io/fs"
	"log/slog"
	"net"
	"os"
	"os/signal"
	"path/filepath"
	"runtime"
	"syscall"
	"time"

	"casewright/internal/app"
	"casewright/internal/server"
	"casewright/internal/store/sqlite"
	"casewright/web"
)

// serveCmd opens the workbench in the browser.
type serveCmd struct {
	Data    string `help:"Folder of the database. Default: the user's data folder." type:"path"`
	Port    int    `help:"Port to listen on; 0 takes any free one." default:"8455"`
	Web     string `help:"Serve pages from this folder in place of those built in." type:"path" hidden:""`
	NoDemos bool   `help:"Leave the demo pieces out."`
	LAN     bool   `name:"lan" help:"Let other devices of the network in, each after a code shown on the page of devices."`
}

func (c serveCmd) Help() string {
	return "Example: casewright serve --data ~/casewright\n\nOnly this machine can reach it. To work with a phone or tablet at the saw too: casewright serve --lan"
}

func (c serveCmd) Run(ctx context.Context, std Streams) error {
	ctx, stop := signal.NotifyContext(ctx, syscall.SIGTERM) // as services are stopped
	defer stop()
	dir, err := dataFolder(c.Data)
	if err != nil {
		return err
	}
	s, err := sqlite.Open(ctx, dir, time.Now)
	if err != nil {
		return err
	}
	defer s.Close()
	bench := app.NewWorkbench(s, time.Now)
	defer bench.Close()
	bench.Log = slog.New(slog.NewTextHandler(std.Err, nil))
	if !c.NoDemos {
		if err := bench.PutDemos(ctx); err != nil {
			return fmt.Errorf("the demo pieces cannot be put in: %w", err)
		}
	}
	var pages fs.FS = web.Dist()
	if c.Web != "" {
		pages = os.DirFS(c.Web)
	}
	opt := server.Options{Web: pages, Version: version, Log: bench.Log}
	l, err := c.listen()
	if err != nil {
		return err
	}
	defer l.Close()
	port := l.Addr().(*net.TCPAddr).Port
	if c.LAN {
		opt.LAN = &server.LAN{Port: port}
		if opt.LAN.Cert, err = server.OpenCertificate(filepath.Join(dir, "lan"), time.Now, opt.LAN); err != nil {
			return err
		}
	}
	fmt.Fprintf(std.Out, "The workbench is open at http://127.0.0.1:%d\n", port)
	if c.LAN {
		fmt.Fprintf(std.Out, "To let another device in, open http://127.0.0.1:%d/devices\n", port)
	}
	return server.New(bench, opt).Serve(ctx, l)
}

func (c serveCmd) listen() (net.Listener, error) {
	host := "127.0.0.1"
	if c.LAN {
		host = ""
	}
	l, err := net.Listen("tcp", fmt.Sprintf("%s:%d", host, c.Port))
	if err != nil {
		return nil, fmt.Errorf("port %d cannot be used (%w); choose another with --port, or 0 for any free one", c.Port, err)
	}
	return l, nil
}

// dataFolder is where the database lies.
func dataFolder(given string) (string, error) {
	if given != "" {
		return given, nil
	}
	if d := os.Getenv("XDG_DATA_HOME"); d != "" {
		return filepath.Join(d, "casewright"), nil
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return "", fmt.Errorf("there is no home folder to keep the pieces in (%w); name a folder with --data", err)
	}
	switch runtime.GOOS {
	case "darwin":
		return filepath.Join(home, "Library", "Application Support", "casewright"), nil
	case "windows":
		if d := os.Getenv("LocalAppData"); d != "" {
			return filepath.Join(d, "casewright"), nil
		}
	}
	return filepath.Join(home, ".local", "share", "casewright"), nil
}

// openAPICmd prints the description of the API, from which the types of the
// pages are made.
type openAPICmd struct{}

func (openAPICmd) Run(std Streams) error {
	text, err := server.New(nil, server.Options{Version: version}).OpenAPI()
	if err != nil {
		return err
	}
	var v any
	if err := json.Unmarshal(text, &v); err != nil {
		return err
	}
	enc := json.NewEncoder(std.Out)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(v)
}
