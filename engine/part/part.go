// Package part holds what a datasheet says of a switching transistor: its type,
// the drawer of invented parts, the choice of a row, the rise of resistance with
// temperature and the thermal response.
//
// Values of P-channel parts are kept as magnitudes; only a printed page gives
// them their sign. A rating that the sheet does not give is the zero si.Quantity.
package part

import "fullyon/engine/si"

// Channel tells whether electrons or holes carry the current.
type Channel string

// The two kinds of channel.
const (
	N Channel = "N"
	P Channel = "P"
)

// Rated says for which reference temperature the headline drain current holds.
type Rated string

// A drain current is rated for a case held at 25 °C, or for air at 25 °C.
const (
	AtCase    Rated = "case"
	AtAmbient Rated = "ambient"
)

// Part is one datasheet.
type Part struct {
	Name    string
	Channel Channel
	Package string
	Note    string // one line of description, for a reader

	Ratings         Ratings
	Characteristics Characteristics
	Thermal         Thermal
}

// Ratings are the absolute maximum ratings: beyond one of them the part may be
// damaged, at once or later.
type Ratings struct {
	VDS      si.Quantity // V, drain to source
	VGSMax   si.Quantity // V, gate to source, in the turn-on direction
	VGSMin   si.Quantity // V, magnitude of the limit in the other direction
	ID       si.Quantity // A, continuous drain current, the headline
	IDAt     Rated       // what the headline is rated for
	IDPulse  si.Quantity // A, pulsed drain current
	Junction si.Quantity // °C, highest junction temperature
	EAS      si.Quantity // J, single-pulse avalanche energy
	IAS      si.Quantity // A, single-pulse avalanche current
}

// MinTypMax is a row with up to three columns and the condition it was measured at.
type MinTypMax struct {
	Min, Typ, Max si.Quantity
	At            si.Quantity // the condition
}

// Row is one guaranteed R_DS(on): the channel is fully on at this V_GS.
type Row struct {
	VGS      si.Quantity // V, magnitude
	ID       si.Quantity // A, the test current
	Typ, Max si.Quantity // Ω at 25 °C
}

// Characteristics are what the part does within its ratings, mostly at 25 °C.
type Characteristics struct {
	VGSTh    MinTypMax   // V, where a trickle (At, in A) begins to flow
	RDSOn    []Row       // by rising V_GS
	Ratio    []Point     // R_DS(on) against junction temperature, normalised to 25 °C; may be empty
	QG       si.Quantity // C, total gate charge at QGAt
	QGAt     si.Quantity // V
	QGS      si.Quantity // C
	QGD      si.Quantity // C
	VPlateau si.Quantity // V
	RGate    si.Quantity // Ω, inside the part
	CIss     si.Quantity // F
	COss     si.Quantity // F
	CRss     si.Quantity // F
	VSD      si.Quantity // V, body diode
	ZTh      Response    // transient thermal response; may be empty
}

// Point is one point of R_DS(on) against junction temperature.
type Point struct {
	Temperature si.Quantity // °C
	Ratio       si.Quantity // 1 at 25 °C
}

// Network says how the cells of a thermal response are joined.
type Network string

// Foster: parallel RC cells in series, tau = R C each. Cauer: a ladder of C to
// the reference and R onwards, with C_i = tau_i/R_i.
const (
	Foster Network = "foster"
	Cauer  Network = "cauer"
)

// Response is a transient thermal impedance, from the junction to To.
type Response struct {
	To      Rated // case or ambient
	Network Network
	Cells   []Cell
}

// Cell is one thermal resistance with its time constant.
type Cell struct {
	R   si.Quantity // K/W
	Tau si.Quantity // s
}

// Thermal are the steady thermal resistances.
type Thermal struct {
	JunctionCase    si.Quantity // K/W
	JunctionAmbient si.Quantity // K/W, on the copper that the sheet names
}

// LogicLevel tells whether some guaranteed row lies at 5 V or below, so that a
// 5 V pin can turn the part fully on.
func (p *Part) LogicLevel() bool {
	return len(p.Characteristics.RDSOn) > 0 && p.Characteristics.RDSOn[0].VGS.Value <= 5
}
