package server

import (
	"context"
	"fmt"
	"math"
	"net"
	"net/http"
	"strconv"
	"strings"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"rsc.io/qr"
)

// DeviceLine is a device in the list of all.
type DeviceLine struct {
	ID      string    `json:"id"`
	Name    string    `json:"name"`
	Paired  time.Time `json:"paired"`
	Seen    time.Time `json:"seen"`
	Here    bool      `json:"here" doc:"it has a page open now"`
	Revoked bool      `json:"revoked"`
}

// Door is one address at which the other device finds this machine.
type Door struct {
	URL  string `json:"url" doc:"to type"`
	Size int    `json:"size" doc:"of the QR code in modules, without the quiet zone of 4"`
	Path string `json:"path" doc:"the QR code as an SVG path; it holds the address with the code"`
}

// ShownCode is the code that counts now.
type ShownCode struct {
	Digits string `json:"digits"`
	Left   int    `json:"left" doc:"seconds it is good for"`
	Doors  []Door `json:"doors"`
}

// DevicesView is what the page of devices shows.
type DevicesView struct {
	LAN         bool         `json:"lan" doc:"other devices can reach this machine"`
	Fingerprint string       `json:"fingerprint" doc:"SHA-256 of the certificate the other device is shown"`
	Authority   string       `json:"authority" doc:"SHA-256 of the certificate that a device can be told to trust"`
	Devices     []DeviceLine `json:"devices"`
	Code        *ShownCode   `json:"code,omitempty"`
}

// JoinView is how the device that asks stands with the workbench.
type JoinView struct {
	Standing string `json:"standing" enum:"here,in,out,revoked" doc:"here: it is the machine that runs casewright"`
	Name     string `json:"name" doc:"of the device, as it was let in"`
}

func (s *Server) registerDevices(api huma.API) {
	op := func(method, path, id, says string) huma.Operation {
		return huma.Operation{Method: method, Path: path, OperationID: id, Summary: says, MaxBodyBytes: 4096, Tags: []string{"devices"}}
	}
	huma.Register(api, op(http.MethodGet, "/api/devices", "devices", "Devices that were let in, and the code that is shown"), s.devicesView)
	huma.Register(api, op(http.MethodPost, "/api/devices/code", "showCode", "A new code to let a device in"), s.showCode)
	huma.Register(api, op(http.MethodDelete, "/api/devices/code", "hideCode", "Put the code away"), func(context.Context, *struct{}) (*struct{}, error) {
		s.pairing.hide()
		return nil, nil
	})
	huma.Register(api, op(http.MethodDelete, "/api/devices/{id}", "revoke", "Shut a device out at once"), func(ctx context.Context, in *ByID) (*struct{}, error) {
		return nil, s.problem(s.devices.revoke(ctx, in.ID))
	})
	huma.Register(api, op(http.MethodPost, "/api/join", "join", "Let the device that asks in, by the code"), s.join)
	s.mux.HandleFunc("GET /api/join/certificate", s.authority)
	s.registerStanding(api)
}

func (s *Server) devicesView(ctx context.Context, _ *struct{}) (*struct{ Body DevicesView }, error) {
	known, here, err := s.devices.list(ctx)
	if err != nil {
		return nil, s.problem(err)
	}
	out := &struct{ Body DevicesView }{DevicesView{Devices: []DeviceLine{}}}
	for _, d := range known {
		out.Body.Devices = append(out.Body.Devices, DeviceLine{d.ID, d.Name, d.Paired, d.Seen, here[d.ID], d.Revoked})
	}
	if s.opt.LAN == nil {
		return out, nil
	}
	out.Body.LAN, out.Body.Fingerprint = true, s.opt.LAN.Cert.fingerprint()
	out.Body.Authority = fingerprint(s.opt.LAN.Cert.authority.Leaf.Raw)
	if c, until, ok := s.pairing.shown(); ok {
		out.Body.Code, err = s.shownCode(c, until)
	}
	return out, err
}

func (s *Server) showCode(context.Context, *struct{}) (*struct{ Body ShownCode }, error) {
	if s.opt.LAN == nil {
		return nil, huma.Error409Conflict("Other devices cannot reach this machine. Stop casewright and start it with: casewright serve --lan")
	}
	shown, err := s.shownCode(s.pairing.show())
	if err != nil {
		return nil, err
	}
	return &struct{ Body ShownCode }{*shown}, nil
}

// shownCode draws a code for every address that the certificate holds for.
func (s *Server) shownCode(c code, until time.Time) (*ShownCode, error) {
	l := s.opt.LAN
	out := &ShownCode{Digits: c.String(), Left: int(math.Ceil(until.Sub(s.pairing.now()).Seconds())), Doors: []Door{}}
	for _, a := range l.Cert.permitted(l.addresses()) {
		url := "https://" + net.JoinHostPort(a.String(), strconv.Itoa(l.Port)) + "/join"
		q, err := qr.Encode(url+"#"+string(c[:]), qr.M)
		if err != nil {
			return nil, fmt.Errorf("the code cannot be drawn: %w", err)
		}
		out.Doors = append(out.Doors, Door{url, q.Size, squares(q)})
	}
	return out, nil
}

// squares are the dark modules of a code as one path, row by row.
func squares(q *qr.Code) string {
	var b strings.Builder
	for y := range q.Size {
		for x := 0; x < q.Size; {
			run := 0
			for x+run < q.Size && q.Black(x+run, y) {
				run++
			}
			if run > 0 {
				fmt.Fprintf(&b, "M%d %dh%dv1h-%dz", x, y, run, run)
			}
			x += max(run, 1)
		}
	}
	return b.String()
}

// registerStanding puts up the question of a device about itself.
func (s *Server) registerStanding(api huma.API) {
	huma.Register(api, huma.Operation{
		Method: http.MethodGet, Path: "/api/join", OperationID: "standing", Tags: []string{"devices"},
		Summary: "How the device that asks stands with the workbench",
	}, func(ctx context.Context, _ *struct{}) (*struct{ Body JoinView }, error) {
		out := &struct{ Body JoinView }{JoinView{Standing: "here"}}
		if c, ok := ctx.Value(callerKey{}).(caller); ok {
			out.Body.Standing = map[standing]string{unknown: "out", in: "in", revoked: "revoked"}[c.standing]
			out.Body.Name = c.Name
		}
		return out, nil
	})
}

type joinReply struct {
	SetCookie http.Cookie `header:"Set-Cookie"`
	Body      JoinView
}

func (s *Server) join(ctx context.Context, in *struct {
	Body struct {
		Code string `json:"code" maxLength:"40" doc:"eight digits"`
		Name string `json:"name" maxLength:"60" doc:"what the device is to be called"`
	}
},
) (*joinReply, error) {
	if _, ok := ctx.Value(callerKey{}).(caller); !ok {
		return nil, huma.Error409Conflict("This is the machine that runs casewright: it needs no code.")
	}
	typed, ok := readCode(in.Body.Code)
	if !ok {
		return nil, huma.Error422UnprocessableEntity("A code has eight digits. Look at the page of devices on the laptop.")
	}
	right, wait := s.pairing.try(typed, remoteOf(ctx))
	if wait > 0 {
		return nil, huma.ErrorWithHeaders(
			huma.Error429TooManyRequests("Too many wrong codes. Wait "+inWords(wait)+" and try again."),
			http.Header{"Retry-After": {strconv.Itoa(int(math.Ceil(wait.Seconds())))}})
	}
	if !right {
		return nil, huma.Error403Forbidden("This code is not right, or its five minutes are over. Look at the page of devices on the laptop.")
	}
	d, secret, err := s.devices.admit(ctx, deviceName(in.Body.Name))
	if err != nil {
		return nil, s.problem(err)
	}
	out := &joinReply{Body: JoinView{Standing: "in", Name: d.Name}}
	out.SetCookie = http.Cookie{
		Name: cookieName, Value: secret, Path: "/", Secure: true, HttpOnly: true,
		SameSite: http.SameSiteStrictMode, MaxAge: int((400 * 24 * time.Hour).Seconds()), // no browser keeps one longer
	}
	return out, nil
}

// deviceName is a name in one line.
func deviceName(typed string) string {
	return or(strings.Join(strings.Fields(typed), " "), "A device")
}

// inWords is a wait in whole seconds or minutes, never too short.
func inWords(d time.Duration) string {
	if s := int(math.Ceil(d.Seconds())); s < 120 {
		return fmt.Sprintf("%d seconds", s)
	}
	return fmt.Sprintf("%d minutes", int(math.Ceil(d.Minutes())))
}

// authority gives the certificate that a device can be told to trust.
func (s *Server) authority(w http.ResponseWriter, _ *http.Request) {
	if s.opt.LAN == nil {
		refuse(w, http.StatusNotFound, "There is no certificate: other devices are not let in.")
		return
	}
	w.Header().Set("Content-Type", "application/x-x509-ca-cert")
	w.Header().Set("Content-Disposition", `attachment; filename="casewright.crt"`)
	_, _ = w.Write(s.opt.LAN.Cert.authority.Leaf.Raw)
}
