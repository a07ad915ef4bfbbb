package storetest

import (
	"testing"
	"time"

	"casewright/internal/store"
)

// at is a time by the clock of a device.
func at(minute int) time.Time { return time.Date(2026, 2, 3, 9, minute, 0, 0, time.UTC) }

func ticks(t *testing.T, s store.Store) {
	none, err := s.Ticks(ctx, "p")
	done(t, err)
	same(t, "none", none, []store.Tick(nil))
	tick := func(id, place string, yes bool, count, minute int) store.Tick {
		return store.Tick{ID: id, Piece: "p", Place: place, Done: yes, Count: count, Device: "phone", At: at(minute)}
	}
	first := tick("1", "saw/b", true, 0, 10)
	other := tick("2", "saw/a", true, 3, 11)
	away := first
	away.ID, away.Piece = "3", "q"
	done(t, s.Tick(ctx, first, other, away))
	check := func(what string, want ...store.Tick) {
		t.Helper()
		got, err := s.Ticks(ctx, "p")
		done(t, err)
		same(t, what, got, want)
	}
	check("by place", other, first)
	done(t, s.Tick(ctx))
	done(t, s.Tick(ctx, first, first, tick("1", "saw/a", false, 9, 59)))
	check("sent again, even changed", other, first)
	earlier := tick("4", "saw/b", false, 0, 9)
	done(t, s.Tick(ctx, earlier))
	check("one that comes late but is earlier", other, first)
	later := tick("5", "saw/b", false, 0, 12)
	done(t, s.Tick(ctx, later))
	check("taken back", other, later)
	even, less := tick("6", "saw/b", true, 7, 12), tick("40", "saw/b", true, 8, 12)
	done(t, s.Tick(ctx, even))
	done(t, s.Tick(ctx, less))
	check("at the same moment, the greater id", other, even)
	if err := s.Tick(ctx, tick("7", "saw/c", true, 0, 13), tick("", "saw/c", true, 0, 14)); err == nil {
		t.Error("a tick without an id was taken")
	}
	check("one bad tick keeps the others out too", other, even)
}

func devices(t *testing.T, s store.Store) {
	check := func(what string, want ...store.Device) {
		t.Helper()
		got, err := s.Devices(ctx)
		done(t, err)
		same(t, what, got, want)
	}
	check("none")
	phone := store.Device{ID: "z", Name: "Phone", Token: []byte{0, 1, 255}, Paired: at(1), Seen: at(1)}
	tablet := store.Device{ID: "a", Name: "Tablet at the saw", Token: []byte{2}, Paired: at(2), Seen: at(2)}
	done(t, s.Admit(ctx, tablet))
	done(t, s.Admit(ctx, phone))
	check("first paired first", phone, tablet)
	if err := s.Admit(ctx, store.Device{ID: "z", Name: "Another", Token: []byte{9}}); err == nil {
		t.Error("a second device was let in under an id that is taken")
	}
	done(t, s.Seen(ctx, "z", at(5)))
	done(t, s.Seen(ctx, "z", at(4)))
	phone.Seen = at(5)
	check("seen at the latest time", phone, tablet)
	done(t, s.Revoke(ctx, "z"))
	done(t, s.Revoke(ctx, "z"))
	phone.Revoked = true
	check("shut out", phone, tablet)
}

func settings(t *testing.T, s store.Store) {
	check := func(name, want string) {
		t.Helper()
		if got, err := s.Setting(ctx, name); err != nil || got != want {
			t.Errorf("%s is %q (%v), want %q", name, got, err, want)
		}
	}
	check("demo", "")
	done(t, s.SetSetting(ctx, "demo", "in"))
	done(t, s.SetSetting(ctx, "other", ""))
	check("demo", "in")
	done(t, s.SetSetting(ctx, "demo", "out"))
	check("demo", "out")
	check("other", "")
}
