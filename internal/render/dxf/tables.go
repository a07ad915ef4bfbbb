package dxf

import "strings"

// Handles of the objects that every drawing has.
const (
	tableVport  = 0x1
	tableLtype  = 0x2
	tableLayer  = 0x3
	tableStyle  = 0x4
	tableView   = 0x5
	tableUCS    = 0x6
	tableAppID  = 0x7
	tableDim    = 0x8
	tableBlocks = 0x9
	rootDict    = 0xA
	groupDict   = 0xB
	vportActive = 0x10
	ltypeBlock  = 0x11
	ltypeLayer  = 0x12
	ltypeLine   = 0x13
	styleText   = 0x14
	appACAD     = 0x15
	dimStandard = 0x16
	modelSpace  = 0x17
	paperSpace  = 0x18
	modelBlock  = 0x19
	modelEnd    = 0x1A
	paperBlock  = 0x1B
	paperEnd    = 0x1C
	firstLayer  = 0x30
)

// head writes the HEADER section: release 2000, millimetres ($INSUNITS 4,
// $MEASUREMENT 1), and the extent.
func (d *Drawing) head(b *strings.Builder) {
	tags(b,
		0, "SECTION", 2, "HEADER",
		9, "$ACADVER", 1, "AC1015",
		9, "$DWGCODEPAGE", 3, "ANSI_1252",
		9, "$INSUNITS", 70, 4,
		9, "$MEASUREMENT", 70, 1,
		9, "$LUNITS", 70, 2,
		9, "$EXTMIN", 10, d.box[0], 20, d.box[1], 30, 0.0,
		9, "$EXTMAX", 10, d.box[2], 20, d.box[3], 30, 0.0,
		9, "$HANDSEED", 5, hex(d.handle+1),
		0, "ENDSEC",
		0, "SECTION", 2, "CLASSES", 0, "ENDSEC")
}

func table(b *strings.Builder, name string, handle, n int) {
	tags(b, 0, "TABLE", 2, name, 5, hex(handle), 330, "0", 100, "AcDbSymbolTable", 70, n)
}

func record(b *strings.Builder, kind string, handle, owner int, class, name string) {
	code := 5
	if kind == "DIMSTYLE" {
		code = 105 // this table alone keeps its handle there
	}
	tags(b, 0, kind, code, hex(handle), 330, hex(owner), 100, "AcDbSymbolTableRecord", 100, class, 2, name)
}

func tables(b *strings.Builder) {
	tags(b, 0, "SECTION", 2, "TABLES")

	table(b, "VPORT", tableVport, 1)
	record(b, "VPORT", vportActive, tableVport, "AcDbViewportTableRecord", "*Active")
	tags(b, 70, 0, 10, 0.0, 20, 0.0, 11, 1.0, 21, 1.0, 12, 0.0, 22, 0.0, 40, 1000.0, 41, 1.5, 0, "ENDTAB")

	table(b, "LTYPE", tableLtype, 3)
	for _, l := range []struct {
		handle int
		name   string
	}{{ltypeBlock, "ByBlock"}, {ltypeLayer, "ByLayer"}, {ltypeLine, "Continuous"}} {
		record(b, "LTYPE", l.handle, tableLtype, "AcDbLinetypeTableRecord", l.name)
		tags(b, 70, 0, 3, "", 72, 65, 73, 0, 40, 0.0)
	}
	tags(b, 0, "ENDTAB")

	table(b, "LAYER", tableLayer, len(layers))
	for i, l := range layers {
		record(b, "LAYER", firstLayer+i, tableLayer, "AcDbLayerTableRecord", l.name)
		tags(b, 70, 0, 62, l.colour, 6, "Continuous", 370, -3)
	}
	tags(b, 0, "ENDTAB")

	table(b, "STYLE", tableStyle, 1)
	record(b, "STYLE", styleText, tableStyle, "AcDbTextStyleTableRecord", "Standard")
	tags(b, 70, 0, 40, 0.0, 41, 1.0, 50, 0.0, 71, 0, 42, 2.5, 3, "txt", 4, "", 0, "ENDTAB")

	table(b, "VIEW", tableView, 0)
	tags(b, 0, "ENDTAB")
	table(b, "UCS", tableUCS, 0)
	tags(b, 0, "ENDTAB")

	table(b, "APPID", tableAppID, 1)
	record(b, "APPID", appACAD, tableAppID, "AcDbRegAppTableRecord", "ACAD")
	tags(b, 70, 0, 0, "ENDTAB")

	table(b, "DIMSTYLE", tableDim, 1)
	tags(b, 100, "AcDbDimStyleTable", 71, 0)
	record(b, "DIMSTYLE", dimStandard, tableDim, "AcDbDimStyleTableRecord", "Standard")
	tags(b, 70, 0, 0, "ENDTAB")

	table(b, "BLOCK_RECORD", tableBlocks, 2)
	record(b, "BLOCK_RECORD", modelSpace, tableBlocks, "AcDbBlockTableRecord", "*Model_Space")
	record(b, "BLOCK_RECORD", paperSpace, tableBlocks, "AcDbBlockTableRecord", "*Paper_Space")
	tags(b, 0, "ENDTAB", 0, "ENDSEC")
}

func blocks(b *strings.Builder) {
	tags(b, 0, "SECTION", 2, "BLOCKS")
	for _, s := range []struct {
		name              string
		owner, begin, end int
	}{{"*Model_Space", modelSpace, modelBlock, modelEnd}, {"*Paper_Space", paperSpace, paperBlock, paperEnd}} {
		tags(b, 0, "BLOCK", 5, hex(s.begin), 330, hex(s.owner), 100, "AcDbEntity", 8, "0", 100, "AcDbBlockBegin",
			2, s.name, 70, 0, 10, 0.0, 20, 0.0, 30, 0.0, 3, s.name, 1, "",
			0, "ENDBLK", 5, hex(s.end), 330, hex(s.owner), 100, "AcDbEntity", 8, "0", 100, "AcDbBlockEnd")
	}
	tags(b, 0, "ENDSEC")
}

func objects(b *strings.Builder) {
	tags(b, 0, "SECTION", 2, "OBJECTS",
		0, "DICTIONARY", 5, hex(rootDict), 330, "0", 100, "AcDbDictionary", 281, 1, 3, "ACAD_GROUP", 350, hex(groupDict),
		0, "DICTIONARY", 5, hex(groupDict), 330, hex(rootDict), 100, "AcDbDictionary", 281, 1,
		0, "ENDSEC")
}
