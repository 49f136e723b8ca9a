package problem

import (
	"math/rand/v2"
	"slices"
	"strings"

	"fullyon/engine/part"
	"fullyon/engine/read"
	"fullyon/engine/si"
)

// wishes are what the generated part of a draw is to be like: of each list one is
// drawn, and an empty list is left to the generator.
type wishes struct {
	channels []part.Channel
	volts    []float64
	gates    []string
	packages []string
}

// generatedVolts are the classes of V_DSS that the generator knows.
var generatedVolts = []float64{20, 30, 40, 60, 100}

// generate reads the wishes for a part that is made at each draw.
func (r *reader) generate(d *drawing, n read.Node) {
	d.slot.kind = word
	m := n.Map()
	if m == nil {
		return
	}
	w := &wishes{}
	for _, c := range r.wished(m.Node("channel"), string(part.N), string(part.P)) {
		w.channels = append(w.channels, part.Channel(c))
	}
	for _, n := range oneOrMore(m.Node("volts")) {
		q, err := anyQuantity(n.Text())
		if err != nil || q.Dim != si.One && q.Dim != si.Voltage || !slices.Contains(generatedVolts, q.Value) {
			r.errorf(n, "volts is one of 20, 30, 40, 60 and 100, the classes of V_DSS, or a list of them")
			continue
		}
		w.volts = append(w.volts, q.Value)
	}
	w.gates = r.wished(m.Node("gate"), "logic", "standard")
	w.packages = r.wished(m.Node("package"), part.Packages()...)
	m.Close()
	d.wishes = w
}

// wished reads one of the choices, or a list of them.
func (r *reader) wished(n read.Node, choices ...string) []string {
	var out []string
	for _, item := range oneOrMore(n) {
		s := item.Text()
		switch near := read.Nearest(s, choices); {
		case slices.Contains(choices, s):
			out = append(out, s)
		case near != "":
			r.errorf(item, "%q is none of %s; the nearest is %s", s, strings.Join(choices, ", "), near)
		default:
			r.errorf(item, "%q is none of %s", s, strings.Join(choices, ", "))
		}
	}
	return out
}

// oneOrMore are the items of a list, or the value that stands in its place.
func oneOrMore(n read.Node) []read.Node {
	switch n.Kind {
	case read.None:
		return nil
	case read.List:
		return n.List()
	}
	return []read.Node{n}
}

// draw makes the part of one draw.
func (w *wishes) draw(rng *rand.Rand) part.Part {
	return part.Generate(rng.Uint64()&MaxSeed, part.Wish{
		Channel: oneOf(w.channels, rng), Volts: oneOf(w.volts, rng), Gate: oneOf(w.gates, rng), Package: oneOf(w.packages, rng),
	})
}

func oneOf[T any](list []T, rng *rand.Rand) (t T) {
	if len(list) > 0 {
		t = list[rng.IntN(len(list))]
	}
	return t
}
