package engine

import "math"

// Limits of supply voltage in V, both DC. Above the first, or with anything
// alternating, nothing is sized. Above the second a bench check carries a
// caution. Source: the limits of extra-low voltage for ordinary, dry places in
// IEC 61140 and IEC 60364-4-41 are 60 V and 120 V DC; the lower one is taken.
const (
	extraLowVoltage = 60.0
	cautionVoltage  = 30.0
)

// OutsideExtraLowVoltage is the reason of every refusal.
const OutsideExtraLowVoltage = "outside extra-low voltage"

// RefusalAdvice is what is said beside a refusal.
const RefusalAdvice = "No sizing is given for alternating supplies or for more than 60 V DC. Read the lesson “Where the mains begins”; " +
	"such work belongs to people with a licence for it, under the codes of the place where you are."

// Refusal tells whether the program refuses to size the circuit, and why. There
// is no way round it: a Sizing of such a circuit has no quantities either.
func Refusal(c *Circuit) (because string, refused bool) {
	if NewSizing(c).outside() {
		return OutsideExtraLowVoltage, true
	}
	return "", false
}

// outside tells whether the supply is alternating or can be above the limit.
func (s *Sizing) outside() bool {
	if s.circuit.Supply.Kind == AC {
		return true
	}
	for _, n := range [...]ID{supplyVoltage, supplyMaximum, supplyMinimum} {
		v := table[n].input.at(s.circuit).Value
		if s.state[n] == set {
			v = s.value[n]
		}
		if math.Abs(v) > extraLowVoltage {
			return true
		}
	}
	return false
}
