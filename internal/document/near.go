package document

import "strings"

// Nearest is the known word most like word, if one is near enough to have
// been meant: at most a third of its letters differ (an insertion, a
// deletion, another letter, or two letters swapped count one each), or one is
// the beginning of the other. Among equals the first wins.
func Nearest(word string, known []string) (string, bool) {
	w := normal(word)
	if w == "" || len(w) > 60 {
		return "", false
	}
	best, least := "", 1<<30
	for _, k := range known {
		n := normal(k)
		d := distance(w, n)
		if d > (max(len(w), len(n))+2)/3 {
			if len(w) < 3 || len(n) < 3 || (!strings.HasPrefix(n, w) && !strings.HasPrefix(w, n)) {
				continue
			}
		}
		if d < least {
			best, least = k, d
		}
	}
	return best, best != ""
}

// normal makes words alike that differ only in case or in how they are parted.
func normal(s string) string {
	return strings.ToLower(strings.NewReplacer("_", "-", " ", "-").Replace(s))
}

// distance is the optimal string alignment distance (Damerau 1964, in the
// restricted form): the least number of insertions, deletions, replacements
// and swaps of neighbours, none touching the same letters twice.
func distance(a, b string) int {
	s, t := []rune(a), []rune(b)
	before, row := make([]int, len(t)+1), make([]int, len(t)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(s); i++ {
		next := make([]int, len(t)+1)
		next[0] = i
		for j := 1; j <= len(t); j++ {
			cost := 1
			if s[i-1] == t[j-1] {
				cost = 0
			}
			next[j] = min(row[j]+1, next[j-1]+1, row[j-1]+cost)
			if i > 1 && j > 1 && s[i-1] == t[j-2] && s[i-2] == t[j-1] {
				next[j] = min(next[j], before[j-2]+1)
			}
		}
		before, row = row, next
	}
	return row[len(t)]
}
