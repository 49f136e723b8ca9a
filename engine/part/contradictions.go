package part

import (
	"math"

	"fullyon/engine/read"
	"fullyon/engine/si"
)

// contradictions notes what no datasheet can say of one part. m is the map that p was read from.
func contradictions(m *read.Map, p *Part) {
	x := &checker{m: m, ratings: m.Sub("ratings"), c: m.Sub("characteristics")}
	x.inRatings(&p.Ratings)
	x.inGate(p)
	x.inRows(p)
	x.inRatio(p.Characteristics.Ratio)
	x.inThermal(p)
}

type checker struct {
	m, ratings, c *read.Map
}

// above notes that a exceeds b, when both are given.
func (x *checker) above(a, b si.Quantity, at read.Place, format string, args ...any) {
	if a.Known() && b.Known() && a.Value > b.Value {
		x.m.Errorf(at, format, args...)
	}
}

func (x *checker) inRatings(r *Ratings) {
	x.above(r.ID, r.IDPulse, x.ratings.Node("i_d_pulse"), "i_d_pulse %s lies below i_d %s; a pulse may carry more than a lasting current", show(r.IDPulse), show(r.ID))
}

func (x *checker) inGate(p *Part) {
	c := &p.Characteristics
	th := x.c.Sub("v_gs_th")
	x.above(c.VGSTh.Min, c.VGSTh.Typ, th.Node("min"), "min %s lies above typ %s", show(c.VGSTh.Min), show(c.VGSTh.Typ))
	x.above(c.VGSTh.Typ, c.VGSTh.Max, th.Node("typ"), "typ %s lies above max %s", show(c.VGSTh.Typ), show(c.VGSTh.Max))
	x.above(c.VGSTh.Min, c.VGSTh.Max, th.Node("min"), "min %s lies above max %s", show(c.VGSTh.Min), show(c.VGSTh.Max))
	if row, ok := p.LowestRow(); ok {
		x.above(c.VGSTh.Max, row.VGS, th.Node("max"), "the threshold's max %s lies above the lowest row of r_ds_on, %s: no part is fully on below its threshold", show(c.VGSTh.Max), show(row.VGS))
		x.above(c.VPlateau, row.VGS, x.c.Node("v_plateau"), "v_plateau %s lies above the lowest row of r_ds_on, %s: at its plateau a part is not yet fully on", show(c.VPlateau), show(row.VGS))
	}
	x.above(c.VGSTh.Min, c.VPlateau, x.c.Node("v_plateau"), "v_plateau %s lies below the threshold's min %s", show(c.VPlateau), show(c.VGSTh.Min))
	if c.QG.Known() && c.QGS.Value+c.QGD.Value > c.QG.Value*(1+same) {
		x.m.Errorf(x.c.Sub("q_g").Node("value"), "q_g %s is less than q_gs and q_gd together; both are parts of it", show(c.QG))
	}
	x.above(c.VPlateau, c.QGAt, x.c.Sub("q_g").Sub("at").Node("v_gs"), "q_g is given at %s, which lies below v_plateau %s", show(c.QGAt), show(c.VPlateau))
	x.above(c.CRss, c.CIss, x.c.Node("c_rss"), "c_rss %s exceeds c_iss %s, which contains it", show(c.CRss), show(c.CIss))
	x.above(c.CRss, c.COss, x.c.Node("c_rss"), "c_rss %s exceeds c_oss %s, which contains it", show(c.CRss), show(c.COss))
}

func (x *checker) inRows(p *Part) {
	rows := p.Characteristics.RDSOn
	nodes := x.c.Node("r_ds_on")
	if nodes.Kind != read.List || len(nodes.List()) != len(rows) {
		return // a row is unreadable, which is noted already
	}
	for i, n := range nodes.List() {
		row := rows[i]
		x.above(row.Typ, row.Max, n.Map().Node("typ"), "typ %s lies above max %s", show(row.Typ), show(row.Max))
		x.above(row.VGS, p.Ratings.VGSMax, n.Map().Node("v_gs"), "the row at %s lies above the v_gs rating, %s", show(row.VGS), show(p.Ratings.VGSMax))
		if i == 0 {
			continue
		}
		last := rows[i-1]
		if row.VGS.Known() && last.VGS.Known() && row.VGS.Value <= last.VGS.Value {
			x.m.Errorf(n.Map().Node("v_gs"), "the rows must rise in v_gs, and %s follows %s", show(row.VGS), show(last.VGS))
			continue
		}
		x.above(row.Max, last.Max, n.Map().Node("max"), "max %s at %s is more than %s at %s; more gate voltage never raises the resistance", show(row.Max), show(row.VGS), show(last.Max), show(last.VGS))
	}
}

func (x *checker) inRatio(points []Point) {
	n := x.c.Node("r_ds_on_ratio")
	if n.Kind != read.List || len(points) != len(n.List()) {
		return
	}
	if len(points) < 2 {
		x.m.Errorf(n, "r_ds_on_ratio needs two points or more, one of them [25 C, 1]")
		return
	}
	has25 := false
	for i, point := range points {
		has25 = has25 || point.Temperature.Value == 25 && math.Abs(point.Ratio.Value-1) < same
		if i > 0 && point.Temperature.Value <= points[i-1].Temperature.Value {
			x.m.Errorf(n.List()[i], "the points must rise in temperature, and %s follows %s", show(point.Temperature), show(points[i-1].Temperature))
		}
		if i > 0 && point.Ratio.Value <= points[i-1].Ratio.Value {
			x.m.Errorf(n.List()[i], "the ratio must rise with temperature, and %s follows %s", show(point.Ratio), show(points[i-1].Ratio))
		}
	}
	if !has25 {
		x.m.Errorf(n, "r_ds_on_ratio must hold the point [25 C, 1]: it is normalised there")
	}
}

// show is a quantity that is written out only when a message needs it.
type show si.Quantity

func (s show) String() string { return text(si.Quantity(s)) }

// slack is how far the cells of a thermal response may differ from the thermal
// resistance beside them. Sheets print fitted cells: published ones differ
// by up to 1.5 %; more than this means that they belong to another part.
const slack = 0.1

func (x *checker) inThermal(p *Part) {
	t := &p.Thermal
	x.above(t.JunctionCase, t.JunctionAmbient, x.m.Sub("thermal").Node("theta_jc"), "theta_jc %s exceeds theta_ja %s, which contains it", show(t.JunctionCase), show(t.JunctionAmbient))
	z := p.Characteristics.ZTh
	name, want := "theta_jc", t.JunctionCase
	if z.To == AtAmbient {
		name, want = "theta_ja", t.JunctionAmbient
	}
	if len(z.Cells) != len(x.c.Sub("z_th").List("cells")) {
		return // a cell is unreadable, which is noted already
	}
	if sum := z.Steady(); want.Known() && len(z.Cells) > 0 && math.Abs(sum-want.Value) > slack*want.Value {
		x.m.Errorf(x.c.Sub("z_th").Node("cells"), "the cells add up to %s and %s is %s; they must agree within 10 %%", show(si.Of(sum, si.ThermalResistance)), name, show(want))
	}
}
