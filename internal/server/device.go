package server

import "context"

type deviceKey struct{}

// withDevice says which device a request comes from.
func withDevice(ctx context.Context, id string) context.Context {
	return context.WithValue(ctx, deviceKey{}, id)
}

// deviceOf is the id of the device a request comes from, empty for this
// machine.
func deviceOf(ctx context.Context) string {
	id, _ := ctx.Value(deviceKey{}).(string)
	return id
}
