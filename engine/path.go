package engine

import "fullyon/engine/read"

// NearestPath is the path of a circuit file most like the given one, or empty.
func NearestPath(path string) string {
	var known []string
	for n := ID(0); n < inputCount; n++ {
		known = append(known, table[n].input.Path)
	}
	for i := range words {
		known = append(known, words[i].Path)
	}
	return read.Nearest(path, known)
}
