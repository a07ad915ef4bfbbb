package route

// alongside is what is delivered with the piece.
func (m *maker) alongside() string {
	switch p := m.Piece; {
	case p.Use.Hung():
		return "the delivery note, the wall fixings and their instruction"
	case p.Restrained(m.Model.Outside.Z):
		return "the delivery note, the restraint and its instruction"
	}
	return "the delivery note"
}

// arrived is how it stands or hangs once it is there, with what opens.
func (m *maker) arrived() string {
	t := "Stands without rocking"
	switch p := m.Piece; {
	case p.Use.Hung() && m.leftToHang():
		t = "Ready to hang"
	case p.Use.Hung():
		t = "Hangs level, tight on its fixings"
	}
	drawers, doors := false, false
	for _, o := range m.Model.Openings {
		drawers, doors = drawers || o.Fill == "drawer", doors || o.Fill == "door"
	}
	switch {
	case drawers && doors:
		t += ", every drawer and door works"
	case drawers:
		t += ", every drawer works"
	case doors:
		t += ", every door works"
	}
	t += ", no mark; "
	if !m.Piece.Use.Hung() && !m.Piece.Use.Free() {
		t += "anchored where it must be; "
	}
	return t + "signed for."
}

// leftToHang says that the customer hangs the piece.
func (m *maker) leftToHang() bool {
	c := m.Piece.Customer
	return c != nil && c.FixedBy != "maker"
}

// hang is how a piece is hung that hangs on a wall; nothing for others.
func (m *maker) hang() string {
	switch {
	case !m.Piece.Use.Hung():
		return ""
	case m.leftToHang():
		return " The customer hangs it, as the note says."
	}
	return " Hang it: look for wires and pipes; mark where its upper fixings go, level, into studs or plugs made for this wall; let it rest on a prop while you screw. Fix through a rail or the wood of the case, not through a thin back, with fixings that hold what the findings say; their maker's sheet and local codes come first."
}
