package shop

import (
	"cmp"
	"strings"
)

// Words is a key as it is read: white oak, of white-oak.
func Words(key string) string { return strings.ReplaceAll(key, "-", " ") }

// Called is what a thing of the shop is called on every screen, list and
// paper: the name it was given, else its key as it is read. Only where a
// document must be edited does its key stand as it is written.
func Called(name, key string) string { return cmp.Or(name, Words(key)) }

// StockCalled is what the panel or wood of a key is called.
func (s Shop) StockCalled(key string) string { return Called(s.Panels[key].Name, key) }

// HardwareCalled is what the hardware of a key is called.
func (s Shop) HardwareCalled(key string) string { return Called(s.Hardware[key].Name, key) }

// BandCalled is what the edge band of a key is called.
func (s Shop) BandCalled(key string) string { return Called(s.Bands[key].Name, key) }
