package part

import (
	_ "embed"
	"slices"
	"sync"

	"fullyon/engine/read"
)

//go:embed drawer.yaml
var drawerYAML []byte

// stock is the drawer of the program: its own embedded file, read once.
var stock = sync.OnceValue(func() stocked {
	parts, err := ReadDrawer("drawer.yaml", drawerYAML)
	if err != nil {
		panic("part: the embedded drawer is broken: " + err.Error()) // cannot be reached: the file is part of the program, and tested
	}
	s := stocked{parts: parts, index: make(map[string]int, len(parts)), names: make([]string, len(parts))}
	for i, p := range parts {
		s.index[p.Name], s.names[i] = i, p.Name
	}
	return s
})

type stocked struct {
	parts []Part
	index map[string]int
	names []string
}

// Drawer gives the parts of the program's own drawer, in its order. The slice is
// the caller's; rows, tables and cells inside the parts are shared and must not
// be changed.
func Drawer() []Part { return slices.Clone(stock().parts) }

// Find looks a part of the program's own drawer up by its exact name.
func Find(name string) (Part, bool) {
	s := stock()
	i, ok := s.index[name]
	if !ok {
		return Part{}, false
	}
	return s.parts[i], true
}

// NearestName is the name in the program's own drawer that was most likely meant; "" when none is near.
func NearestName(name string) string { return read.Nearest(name, stock().names) }

// ReadDrawer reads a file of parts: YAML or JSON with a list under the key
// `parts`, each in the words of a circuit file and with a name of its own. The
// error is a read.Errors with the place of each mistake.
func ReadDrawer(file string, src []byte) ([]Part, error) {
	doc, err := read.Parse(file, src)
	if err != nil {
		return nil, err
	}
	m := doc.Root().Map()
	m.Require("parts")
	nodes := m.List("parts")
	parts := make([]Part, 0, len(nodes))
	seen := make(map[string]int, len(nodes))
	for _, n := range nodes {
		pm := n.Map()
		if !pm.Require("name", "channel") {
			continue
		}
		p := Read(pm)
		name := pm.Node("name")
		if line, ok := seen[p.Name]; ok {
			doc.Errorf(name, "a part named %q stands in line %d already; each needs a name of its own", p.Name, line)
		}
		seen[p.Name] = name.Line
		parts = append(parts, p)
	}
	m.Close()
	if err := doc.Err(); err != nil {
		return nil, err
	}
	return parts, nil
}
