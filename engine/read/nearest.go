package read

import (
	"strings"
	"unicode/utf8"
)

// Nearest gives the known word that the word was most likely meant to be, or ""
// when none is near. Case and the difference of - and _ count for nothing;
// otherwise the optimal string alignment distance (insert, drop, change, swap
// two neighbours) may be a third of the word's length, at least 1.
func Nearest(word string, known []string) string {
	if len(word) > 200 {
		return ""
	}
	w := fold(word)
	best, limit := "", max(1, (utf8.RuneCountInString(word)+1)/3)+1
	for _, k := range known {
		if d := distance(w, fold(k)); d < limit {
			best, limit = k, d
		}
	}
	return best
}

func fold(s string) []rune {
	return []rune(strings.ReplaceAll(strings.ToLower(s), "-", "_"))
}

// distance is the optimal string alignment distance of two words.
func distance(a, b []rune) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}
