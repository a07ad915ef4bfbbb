// Package bend is the mechanics of a panel bent by saw kerfs: what angle a row
// of kerfs closes at, what radius it gives, whether the skin left will stand
// it, and how well all that is known before the saw is started.
//
// The skin left under a kerf bends as a thin strip; the lands between the
// kerfs stay nearly flat. The strip turns about its neutral surface, which
// lies a depth y_n under the uncut face, so a kerf of width w closes at the
// mouth when it has turned w/h, with the lever h = T - y_n. Everything else
// follows from that and from how far the bending reaches into the lands.
//
// The formulas are derived; those for the root of the skin in the land were
// fitted to plane-stress finite elements. Allowable strains come from the
// least bend radii of FAA AC 43.13-1B. No formula knows the sheet on the
// bench: a test bend (see Calibrate) beats all of them.
//
// Inside the package lengths are float64 millimetres, angles radians, moduli
// newtons per square millimetre. Everything handed in and out is typed.
package bend
