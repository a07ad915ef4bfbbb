package route

// Caution is one thing to mind. A source of Common has no document behind it.
type Caution struct {
	Says   string `json:"says"`
	Source string `json:"source"`
}

// Work is work, or use, that has cautions of its own.
type Work string

// The kinds of work, and the piece in use.
const (
	TableSaw  Work = "table saw"
	TrackSaw  Work = "track saw"
	HandGuide Work = "hand-held saw"
	Kerfing   Work = "kerfing"
	Crosscuts Work = "cuts against a stop"
	Sheets    Work = "full panels"
	Bending   Work = "bending"
	Drilling  Work = "drilling"
	Routing   Work = "routing"
	Milling   Work = "milling solid wood"
	WetSkin   Work = "softening with hot water"
	Screwing  Work = "screws"
	SolidWood Work = "solid wood"
	Sanding   Work = "sanding"
	Gluing    Work = "gluing"
	Finishing Work = "finishing"
	OilyRags  Work = "rags with oil"
	Spraying  Work = "spraying"
	Lifting   Work = "lifting"
	InUse     Work = "the piece in use"
	Storage   Work = "drawers and doors in use"
)

// Common marks what every workshop teaches and no document seen here states.
const Common = "common practice, no source"

// LastWord stands under every list of cautions.
const LastWord = "These are the usual cautions, not all of them. Your codes, the machine's manual and licensed practice come first."

// Cautions are those of a kind of work: the usual ones, not all; see LastWord.
func Cautions(w Work) []Caution { return cautions[w] }

// cautions are those of each kind of work.
var cautions = map[Work][]Caution{
	TableSaw: {
		{"Guard, riving knife and anti-kickback device in place for every through cut.", "29 CFR 1910.213(c)"},
		{"Riving knife within 8 mm of the blade, thicker than its plate, thinner than its kerf.", "HSE woodworking sheet 16"},
		{"Push stick of at least 450 mm for the last 300 mm of a cut. Never reach over the blade.", "HSE woodworking sheet 16"},
		{"No blade smaller than 60 % of the largest the saw takes; it must stop within 10 s.", "HSE woodworking sheet 16 and saw page"},
		{"Never cross-cut against the rip fence without a stop block: the piece turns, jams and comes back.", Common},
		{"Hearing and eye protection, dust extraction at the saw. Wood dust harms the lungs; limits are those of your country.", "29 CFR 1910.1000; HSE sheet 23"},
		{"Blade change and set-up with the plug out.", "29 CFR 1910.213(b)"},
	},
	TrackSaw: {
		{"Clamp the rail or press it down on clean wood. Both hands on the saw, cord and hose clear of the edge.", Common},
		{"Support both halves right up to the cut, so that the kerf cannot close on the blade.", Common},
		{"Let the blade stop before the saw is put down.", Common},
		{"Hearing and eye protection, extraction on the saw. Wood dust harms the lungs; limits are those of your country.", "29 CFR 1910.1000; HSE sheet 23"},
		{"Blade change and set-up with the plug out.", "29 CFR 1910.213(b)"},
	},
	HandGuide: {
		{"Clamp the guide at both ends and the piece on supports right up to the cut, so that the kerf cannot close on the blade.", Common},
		{"The lower guard must spring back by itself. Let the blade stop before the saw is put down.", Common},
		{"Hearing and eye protection, extraction or a mask. Wood dust harms the lungs; limits are those of your country.", "29 CFR 1910.1000; HSE sheet 23"},
		{"Blade change and set-up with the plug out.", "29 CFR 1910.213(b)"},
	},
	Kerfing: {
		{"A kerf is a cut that does not go through. If guard and riving knife come off for it, use a guard made for such cuts; put both back before the next through cut.", "29 CFR 1910.213(c); HSE woodworking sheet 16"},
		{"Hold the panel flat on the saw over its whole width: where it lifts, the skin stays too thick, where dust lies under it, too thin.", Common},
		{"A kerfed panel is weak. Carry it on edge with a board along it, two people over 1.2 m, and store it flat.", Common},
	},
	Crosscuts: {
		{"At the stop: piece held by the sled or mitre gauge, nothing between the off-cut and a fixed fence, hands clear of the line of the blade.", Common},
	},
	Sheets: {
		{"Panels are heavy: a cart or two people. Weigh before you lift; guidance limits are near 25 kg close to the body.", "NIOSH lifting equation 23 kg; HSE manual handling filter 25 and 16 kg"},
		{"Use panels whose label states a formaldehyde class; cut them with extraction and air the new piece.", "40 CFR 770"},
	},
	Bending: {
		{"A bent panel is a spring. Clamp before gluing, keep your face out of its way, release slowly: a strap that slips lets it fly open.", Common},
		{"If it cracks while bending, stop and let it back. Do not force it on.", Common},
	},
	WetSkin: {
		{"Hot water and steam scald: gloves that keep it out, steam led away from you, and no mains plug near the wet.", Common},
	},
	Drilling: {
		{"Clamp small work. No gloves, loose sleeves or long hair at a turning bit. A stop on the bit where a face must not be pierced.", Common},
	},
	Routing: {
		{"Feed against the turn of the cutter: hand-held, outside edges anticlockwise, inside edges clockwise. Never trap work between cutter and fence.", Common},
	},
	Milling: {
		{"Keep to your machine's shortest and thinnest piece; where the manual is silent, nothing under 305 mm (12 in) through the planer. Push blocks at the jointer.", "machine manuals; " + Common},
		{"Guards of jointer and planer in place, knives at most 3 mm (1/8 in) out of the head.", "29 CFR 1910.213(j)"},
	},
	Screwing: {
		{"Drill every pilot with a stop on the bit. Try one screw in a scrap of the same stack first: it must not show and must not strip.", Common},
	},
	SolidWood: {
		{"Some woods irritate skin or lungs; read up on yours before you sand it.", Common},
	},
	Sanding: {
		{"Extraction at the sander or a mask made for dust; vacuum, do not sweep. Limits for wood dust run from 1 to 5 mg/m³ by country and wood.", "29 CFR 1910.1000 (5 respirable, 15 total); NIOSH 1; EU hardwood 2; UK hardwood 3"},
		{"Fine dust burns and can explode: empty the bag outdoors, away from finish and sparks.", "NFPA 664, from memory"},
	},
	Gluing: {
		{"Read the glue's sheet: gloves for epoxy, urea resin and polyurethane, and air in the room. Clamps under load slip: fingers and face out of their way.", Common},
	},
	Finishing: {
		{"No spark, pilot light or open flame in the room; air moving through it. A respirator made for solvents where the tin says so.", Common},
		{"Rags, tins and thinner go into a covered metal can that is emptied every day.", "29 CFR 1910.107(g)(3); NFPA 33"},
	},
	OilyRags: {
		{"Rags wet with oil or varnish heat up by themselves and catch fire. Never in a heap: spread them flat outdoors to dry, or soak them in water in a closed metal can.", "NFPA 33; " + Common},
	},
	Spraying: {
		{"Spray only where codes allow it: a booth or outdoors, no source of ignition, respirator for solvent, supplied air for isocyanates.", "29 CFR 1910.107; " + Common},
	},
	Lifting: {
		{"Weigh before you lift. Guidance limits: 23 kg (51 lb) under the best conditions; 25 kg and 16 kg for men and women close at the waist. Above that: two people or a cart.", "NIOSH lifting equation; HSE manual handling filter; both from memory"},
	},
	InUse: {
		{"Heavy things low. Anchor what stands and is tall or has drawers to the wall, with a fixing meant for that wall.", Common},
		{"Do not climb or stand on it; do not load it beyond what the delivery note says.", Common},
		{"A new piece smells of finish and glue: air the room until it no longer does.", "40 CFR 770; " + Common},
	},
	Storage: {
		{"One drawer open at a time. A child that climbs on open drawers can pull the piece over, or off its wall; an anchor does not replace a piece that stands by itself.", "16 CFR 1261; " + Common},
	},
}

// Works are all kinds of work with cautions, in the order of the work.
func Works() []Work {
	return []Work{
		Sheets, TableSaw, TrackSaw, HandGuide, Crosscuts, SolidWood, Milling, Drilling, Routing, Kerfing, WetSkin, Bending, Gluing, Sanding, Screwing,
		Finishing, OilyRags, Spraying, Lifting, InUse, Storage,
	}
}
