package document_test

import (
	"bytes"
	"os"
	"testing"

	"casewright/internal/piece"
)

func BenchmarkDecodePiece(b *testing.B) {
	text, err := os.ReadFile("../../demo/record-cabinet.yaml")
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := piece.Decode("x", bytes.NewReader(text)); err != nil {
			b.Fatal(err)
		}
	}
}
