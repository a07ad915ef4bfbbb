package cutting

import "slices"

// listAll lists all sets of pieces that fill a bar with room and are worth at
// least floor; the table must be loaded. The list is not whole when there are
// more than most, or the search takes more than turns.
func (f *filler) listAll(room, floor int64, most, turns int) (list []worthy, whole bool) {
	f.turns, f.picks = turns, f.picks[:0]
	var try func(i int, room, val int64)
	try = func(i int, room, val int64) {
		if val >= floor {
			if len(list) == most {
				f.turns = 0
				return
			}
			list = append(list, worthy{val, slices.Clone(f.picks)})
		}
		for ; i < len(f.ids) && room >= f.short[i]; i++ {
			if f.turns--; f.turns <= 0 || val+f.table[i][room/f.step] < floor {
				return
			}
			for k := min(int64(f.n[i]), room/f.w[i]); k > 0; k-- {
				left, now := room-k*f.w[i], val+k*f.v[i]
				if now+f.table[i+1][left/f.step] < floor {
					continue
				}
				f.picks = append(f.picks, run{f.ids[i], int(k)})
				try(i+1, left, now)
				f.picks = f.picks[:len(f.picks)-1]
			}
		}
	}
	try(0, room, 0)
	f.work += 8 * (turns - max(0, f.turns))
	return list, f.turns > 0
}
