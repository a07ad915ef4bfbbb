package bend

import "casewright/internal/unit"

// CornerPush is the push of the mouth corners on each other, N per mm of
// kerf, when the bend is held past closing with the moment moment, of which
// the skin carries skin (both N·mm per mm): (moment - skin)/lever. Derived.
func CornerPush(moment, skin float64, lever unit.Length) float64 {
	if lever <= 0 || !(moment > skin) {
		return 0
	}
	return (moment - skin) / lever.MM()
}

// CrushTurn is what each kerf turns further when its mouth corners crush by
// crush on each side: 2·crush/lever. Derived.
func CrushTurn(crush, lever unit.Length) unit.Angle {
	if lever <= 0 {
		return 0
	}
	return unit.Angle(2 * crush.MM() / lever.MM())
}
