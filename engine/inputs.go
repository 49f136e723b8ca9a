package engine

import "fullyon/engine/si"

// Input is one number that a circuit file can give. Name is the flat name by
// which formulas, quantities and templates know it.
type Input struct {
	Name    string
	Path    string // in a circuit file
	Symbol  string // TeX
	Meaning string
	Dim     si.Dim

	at      func(*Circuit) *si.Quantity
	standIn func(*Sizing) float64 // the default; nil where there is none
	why     string                // the ground of the default, printed with a result that leans on it
}

// fixed is a default that does not depend on the rest of the circuit.
func fixed(v float64) func(*Sizing) float64 { return func(*Sizing) float64 { return v } }

// inputs lists every number of a circuit file once: the reader, the writer, the
// templates and the glossary all go by this table.
func inputs() []Input {
	return []Input{
		supplyVoltage:  {Name: "supply_voltage", Path: "supply.voltage", Symbol: `V`, Meaning: "nominal supply voltage", Dim: si.Voltage, at: func(c *Circuit) *si.Quantity { return &c.Supply.Voltage }},
		supplyMaximum:  {Name: "supply_maximum", Path: "supply.maximum", Symbol: `V_M`, Meaning: "highest supply voltage", Dim: si.Voltage, at: func(c *Circuit) *si.Quantity { return &c.Supply.Maximum }, standIn: func(s *Sizing) float64 { return s.q(supplyVoltage) }, why: "the nominal voltage"},
		supplyMinimum:  {Name: "supply_minimum", Path: "supply.minimum", Symbol: `V_{min}`, Meaning: "lowest supply voltage", Dim: si.Voltage, at: func(c *Circuit) *si.Quantity { return &c.Supply.Minimum }, standIn: func(s *Sizing) float64 { return s.q(supplyVoltage) }, why: "the nominal voltage"},
		currentLimit:   {Name: "current_limit", Path: "supply.current_limit", Symbol: `I_{lim}`, Meaning: "current limit of the supply", Dim: si.Current, at: func(c *Circuit) *si.Quantity { return &c.Supply.CurrentLimit }},
		fuse:           {Name: "fuse", Path: "supply.fuse", Symbol: `I_{fuse}`, Meaning: "fuse rating", Dim: si.Current, at: func(c *Circuit) *si.Quantity { return &c.Supply.Fuse }},
		loopResistance: {Name: "loop_resistance", Path: "supply.loop_resistance", Symbol: `R_{loop}`, Meaning: "resistance of a shorted battery and its leads", Dim: si.Resistance, at: func(c *Circuit) *si.Quantity { return &c.Supply.LoopResistance }},

		givenCurrent:     {Name: "given_current", Path: "load.current", Symbol: `I`, Meaning: "running current as given", Dim: si.Current, at: func(c *Circuit) *si.Quantity { return &c.Load.Current }},
		loadPower:        {Name: "load_power", Path: "load.power", Symbol: `P_{load}`, Meaning: "power of the load", Dim: si.Power, at: func(c *Circuit) *si.Quantity { return &c.Load.Power }},
		loadResistance:   {Name: "load_resistance", Path: "load.resistance", Symbol: `R`, Meaning: "resistance of the load", Dim: si.Resistance, at: func(c *Circuit) *si.Quantity { return &c.Load.Resistance }},
		stallCurrent:     {Name: "stall_current", Path: "load.stall_current", Symbol: `I_{stall}`, Meaning: "current of the motor held still", Dim: si.Current, at: func(c *Circuit) *si.Quantity { return &c.Load.StallCurrent }},
		stallTime:        {Name: "stall_time", Path: "load.stall_time", Symbol: `t_{stall}`, Meaning: "how long a stall can last", Dim: si.Time, at: func(c *Circuit) *si.Quantity { return &c.Load.StallTime }},
		inductance:       {Name: "inductance", Path: "load.inductance", Symbol: `L`, Meaning: "inductance of the load", Dim: si.Inductance, at: func(c *Circuit) *si.Quantity { return &c.Load.Inductance }},
		coldRatio:        {Name: "cold_ratio", Path: "load.cold_ratio", Symbol: `k_{cold}`, Meaning: "cold current of a lamp over its running current", Dim: si.One, at: func(c *Circuit) *si.Quantity { return &c.Load.ColdRatio }, standIn: fixed(10), why: "10 times, common practice for a filament"},
		inrushTime:       {Name: "inrush_time", Path: "load.inrush_time", Symbol: `t_{rush}`, Meaning: "how long the rush of a lamp lasts", Dim: si.Time, at: func(c *Circuit) *si.Quantity { return &c.Load.InrushTime }, standIn: fixed(5e-3), why: "5 ms, common practice for a small filament"},
		loadCapacitance:  {Name: "load_capacitance", Path: "load.capacitance", Symbol: `C`, Meaning: "capacitance at the load", Dim: si.Capacitance, at: func(c *Circuit) *si.Quantity { return &c.Load.Capacitance }},
		seriesResistance: {Name: "series_resistance", Path: "load.series_resistance", Symbol: `R_S`, Meaning: "resistance in series with the capacitance", Dim: si.Resistance, at: func(c *Circuit) *si.Quantity { return &c.Load.SeriesResistance }},

		logicHigh:      {Name: "logic_high", Path: "drive.logic_high", Symbol: `V_{pin}`, Meaning: "high level of the pin", Dim: si.Voltage, at: func(c *Circuit) *si.Quantity { return &c.Drive.LogicHigh }},
		logicHighMin:   {Name: "logic_high_min", Path: "drive.logic_high_min", Symbol: `V_{pin,min}`, Meaning: "lowest high level of the pin", Dim: si.Voltage, at: func(c *Circuit) *si.Quantity { return &c.Drive.LogicHighMin }, standIn: func(s *Sizing) float64 { return 0.95 * s.q(logicHigh) }, why: "0.95 times the nominal level (supply tolerance of 5 %)"},
		logicLow:       {Name: "logic_low", Path: "drive.logic_low", Symbol: `V_{low}`, Meaning: "low level of the pin", Dim: si.Voltage, at: func(c *Circuit) *si.Quantity { return &c.Drive.LogicLow }, standIn: fixed(0), why: "0 V"},
		pinCurrent:     {Name: "pin_current", Path: "drive.pin_current", Symbol: `I_{pin}`, Meaning: "recommended current of one pin", Dim: si.Current, at: func(c *Circuit) *si.Quantity { return &c.Drive.PinCurrent }},
		pinCurrentMax:  {Name: "pin_current_max", Path: "drive.pin_current_max", Symbol: `I_{pin,max}`, Meaning: "absolute maximum current of one pin", Dim: si.Current, at: func(c *Circuit) *si.Quantity { return &c.Drive.PinCurrentMax }},
		pinResistance:  {Name: "pin_resistance", Path: "drive.pin_resistance", Symbol: `R_{pin}`, Meaning: "output resistance of the pin", Dim: si.Resistance, at: func(c *Circuit) *si.Quantity { return &c.Drive.PinResistance }, standIn: fixed(25), why: "25 Ω, common practice"},
		seriesResistor: {Name: "series_resistor", Path: "drive.series_resistor", Symbol: `R_{series}`, Meaning: "resistor between pin and gate", Dim: si.Resistance, at: func(c *Circuit) *si.Quantity { return &c.Drive.SeriesResistor }, standIn: fixed(0), why: "none: the pin is wired straight to the gate"},
		pullDown:       {Name: "pull_down", Path: "drive.pull_down", Symbol: `R_{pd}`, Meaning: "resistor from gate to source", Dim: si.Resistance, at: func(c *Circuit) *si.Quantity { return &c.Drive.PullDown }},
		frequency:      {Name: "frequency", Path: "drive.frequency", Symbol: `f`, Meaning: "switching frequency", Dim: si.Frequency, at: func(c *Circuit) *si.Quantity { return &c.Drive.Frequency }, standIn: fixed(0), why: "switched by hand or seldom"},
		duty:           {Name: "duty", Path: "drive.duty", Symbol: `D`, Meaning: "share of the time that the switch is on", Dim: si.One, at: func(c *Circuit) *si.Quantity { return &c.Drive.Duty }, standIn: fixed(1), why: "on all the time"},
		supplyRise:     {Name: "supply_rise", Path: "drive.supply_rise", Symbol: `t_r`, Meaning: "time in which the supply comes up", Dim: si.Time, at: func(c *Circuit) *si.Quantity { return &c.Drive.SupplyRise }, standIn: fixed(1e-3), why: "1 ms for a supply that is switched on; 1 µs when plugged in live"},

		vds:        {Name: "v_ds", Path: "part.ratings.v_ds", Symbol: `V_{DSS}`, Meaning: "drain-source voltage rating", Dim: si.Voltage, at: func(c *Circuit) *si.Quantity { return &c.Part.Ratings.VDS }},
		vgs:        {Name: "v_gs", Path: "part.ratings.v_gs.max", Symbol: `V_{GS,max}`, Meaning: "gate-source voltage rating", Dim: si.Voltage, at: func(c *Circuit) *si.Quantity { return &c.Part.Ratings.VGSMax }},
		vgsReverse: {Name: "v_gs_reverse", Path: "part.ratings.v_gs.min", Symbol: `V_{GS,min}`, Meaning: "gate-source voltage rating the other way, as a magnitude", Dim: si.Voltage, at: func(c *Circuit) *si.Quantity { return &c.Part.Ratings.VGSMin }},
		id:         {Name: "i_d", Path: "part.ratings.i_d", Symbol: `I_D`, Meaning: "continuous drain current rating", Dim: si.Current, at: func(c *Circuit) *si.Quantity { return &c.Part.Ratings.ID }},
		idPulse:    {Name: "i_d_pulse", Path: "part.ratings.i_d_pulse", Symbol: `I_{DM}`, Meaning: "pulsed drain current rating", Dim: si.Current, at: func(c *Circuit) *si.Quantity { return &c.Part.Ratings.IDPulse }},
		tj:         {Name: "t_j", Path: "part.ratings.t_j", Symbol: `T_{J,max}`, Meaning: "highest junction temperature", Dim: si.Temperature, at: func(c *Circuit) *si.Quantity { return &c.Part.Ratings.Junction }},
		eas:        {Name: "e_as", Path: "part.ratings.e_as", Symbol: `E_{AS}`, Meaning: "single-pulse avalanche energy rating", Dim: si.Energy, at: func(c *Circuit) *si.Quantity { return &c.Part.Ratings.EAS }},
		ias:        {Name: "i_as", Path: "part.ratings.i_as", Symbol: `I_{AS}`, Meaning: "single-pulse avalanche current rating", Dim: si.Current, at: func(c *Circuit) *si.Quantity { return &c.Part.Ratings.IAS }},
		vthMin:     {Name: "v_gs_th_min", Path: "part.characteristics.v_gs_th.min", Symbol: `V_{GS(th),min}`, Meaning: "lowest threshold voltage", Dim: si.Voltage, at: func(c *Circuit) *si.Quantity { return &c.Part.Characteristics.VGSTh.Min }},
		vthTyp:     {Name: "v_gs_th_typ", Path: "part.characteristics.v_gs_th.typ", Symbol: `V_{GS(th)}`, Meaning: "typical threshold voltage", Dim: si.Voltage, at: func(c *Circuit) *si.Quantity { return &c.Part.Characteristics.VGSTh.Typ }},
		vthMax:     {Name: "v_gs_th_max", Path: "part.characteristics.v_gs_th.max", Symbol: `V_{GS(th),max}`, Meaning: "highest threshold voltage", Dim: si.Voltage, at: func(c *Circuit) *si.Quantity { return &c.Part.Characteristics.VGSTh.Max }},
		vthAt:      {Name: "v_gs_th_at", Path: "part.characteristics.v_gs_th.at.i_d", Symbol: `I_{th}`, Meaning: "drain current at which the threshold is measured", Dim: si.Current, at: func(c *Circuit) *si.Quantity { return &c.Part.Characteristics.VGSTh.At }},
		qg:         {Name: "q_g", Path: "part.characteristics.q_g.value", Symbol: `Q_G`, Meaning: "total gate charge at its test voltage", Dim: si.Charge, at: func(c *Circuit) *si.Quantity { return &c.Part.Characteristics.QG }},
		qgAt:       {Name: "q_g_at", Path: "part.characteristics.q_g.at.v_gs", Symbol: `V_{at}`, Meaning: "gate voltage at which the charge is measured", Dim: si.Voltage, at: func(c *Circuit) *si.Quantity { return &c.Part.Characteristics.QGAt }},
		qgs:        {Name: "q_gs", Path: "part.characteristics.q_gs", Symbol: `Q_{GS}`, Meaning: "gate-source charge", Dim: si.Charge, at: func(c *Circuit) *si.Quantity { return &c.Part.Characteristics.QGS }},
		qgd:        {Name: "q_gd", Path: "part.characteristics.q_gd", Symbol: `Q_{GD}`, Meaning: "gate-drain charge", Dim: si.Charge, at: func(c *Circuit) *si.Quantity { return &c.Part.Characteristics.QGD }},
		vPlateau:   {Name: "v_plateau", Path: "part.characteristics.v_plateau", Symbol: `V_{pl}`, Meaning: "plateau of the gate voltage while the drain swings", Dim: si.Voltage, at: func(c *Circuit) *si.Quantity { return &c.Part.Characteristics.VPlateau }},
		rGate:      {Name: "r_gate", Path: "part.characteristics.r_gate", Symbol: `R_{g}`, Meaning: "gate resistance inside the part", Dim: si.Resistance, at: func(c *Circuit) *si.Quantity { return &c.Part.Characteristics.RGate }, standIn: fixed(0), why: "not given by the sheet: taken as 0 Ω"},
		cIss:       {Name: "c_iss", Path: "part.characteristics.c_iss", Symbol: `C_{iss}`, Meaning: "input capacitance", Dim: si.Capacitance, at: func(c *Circuit) *si.Quantity { return &c.Part.Characteristics.CIss }},
		cOss:       {Name: "c_oss", Path: "part.characteristics.c_oss", Symbol: `C_{oss}`, Meaning: "output capacitance", Dim: si.Capacitance, at: func(c *Circuit) *si.Quantity { return &c.Part.Characteristics.COss }},
		cRss:       {Name: "c_rss", Path: "part.characteristics.c_rss", Symbol: `C_{rss}`, Meaning: "reverse transfer capacitance", Dim: si.Capacitance, at: func(c *Circuit) *si.Quantity { return &c.Part.Characteristics.CRss }},
		vsd:        {Name: "v_sd", Path: "part.characteristics.v_sd", Symbol: `V_{SD}`, Meaning: "forward voltage of the body diode", Dim: si.Voltage, at: func(c *Circuit) *si.Quantity { return &c.Part.Characteristics.VSD }},
		thetaJC:    {Name: "theta_jc", Path: "part.thermal.theta_jc", Symbol: `\theta_{JC}`, Meaning: "thermal resistance from junction to case", Dim: si.ThermalResistance, at: func(c *Circuit) *si.Quantity { return &c.Part.Thermal.JunctionCase }},
		thetaJA:    {Name: "theta_ja", Path: "part.thermal.theta_ja", Symbol: `\theta_{JA}`, Meaning: "thermal resistance from junction to air", Dim: si.ThermalResistance, at: func(c *Circuit) *si.Quantity { return &c.Part.Thermal.JunctionAmbient }},

		ambient:       {Name: "ambient", Path: "surroundings.ambient", Symbol: `T_A`, Meaning: "temperature of the air around the part", Dim: si.Temperature, at: func(c *Circuit) *si.Quantity { return &c.Surroundings.Ambient }, standIn: fixed(40), why: "40 °C, the air in a small closed box on a warm evening (common practice)"},
		thetaCS:       {Name: "theta_cs", Path: "surroundings.heatsink.theta_cs", Symbol: `\theta_{CS}`, Meaning: "thermal resistance from case to heatsink", Dim: si.ThermalResistance, at: func(c *Circuit) *si.Quantity { return &c.Surroundings.CaseSink }, standIn: fixed(0.5), why: "0.5 K/W, a greased joint (common practice)"},
		thetaSA:       {Name: "theta_sa", Path: "surroundings.heatsink.theta_sa", Symbol: `\theta_{SA}`, Meaning: "thermal resistance from heatsink to air", Dim: si.ThermalResistance, at: func(c *Circuit) *si.Quantity { return &c.Surroundings.SinkAmbient }},
		junctionLimit: {Name: "junction_limit", Path: "surroundings.junction_limit", Symbol: `T_{lim}`, Meaning: "junction temperature not to be passed", Dim: si.Temperature, at: func(c *Circuit) *si.Quantity { return &c.Surroundings.JunctionLimit }, standIn: func(s *Sizing) float64 { return s.q(tj) - 25 }, why: "25 K under the rated junction temperature (common practice)"},

		vF:  {Name: "v_f", Path: "freewheel.v_f", Symbol: `V_F`, Meaning: "forward voltage of the freewheel diode", Dim: si.Voltage, at: func(c *Circuit) *si.Quantity { return &c.Freewheel.ForwardVoltage }},
		iF:  {Name: "i_f", Path: "freewheel.i_f", Symbol: `I_F`, Meaning: "current the freewheel diode may carry", Dim: si.Current, at: func(c *Circuit) *si.Quantity { return &c.Freewheel.ForwardCurrent }},
		vRR: {Name: "v_rrm", Path: "freewheel.v_rrm", Symbol: `V_{RRM}`, Meaning: "voltage the freewheel diode may block", Dim: si.Voltage, at: func(c *Circuit) *si.Quantity { return &c.Freewheel.ReverseVoltage }},
		qRR: {Name: "q_rr", Path: "freewheel.q_rr", Symbol: `Q_{rr}`, Meaning: "charge the freewheel diode gives back", Dim: si.Charge, at: func(c *Circuit) *si.Quantity { return &c.Freewheel.RecoveredCharge }, standIn: fixed(0), why: "none: a Schottky diode gives back next to nothing"},
		vZ:  {Name: "v_z", Path: "freewheel.v_z", Symbol: `V_Z`, Meaning: "zener voltage of the clamp", Dim: si.Voltage, at: func(c *Circuit) *si.Quantity { return &c.Freewheel.ZenerVoltage }},

		wireLength:   {Name: "wire_length", Path: "wiring.length", Symbol: `l`, Meaning: "length of the cable, one way", Dim: si.Length, at: func(c *Circuit) *si.Quantity { return &c.Wiring.Length }},
		crossSection: {Name: "cross_section", Path: "wiring.cross_section", Symbol: `A`, Meaning: "cross-section of one wire", Dim: si.Area, at: func(c *Circuit) *si.Quantity { return &c.Wiring.CrossSection }},
		wireRating:   {Name: "wire_rating", Path: "wiring.rating", Symbol: `I_{wire}`, Meaning: "current rating of the cable", Dim: si.Current, at: func(c *Circuit) *si.Quantity { return &c.Wiring.Rating }},

		vCE:        {Name: "v_ce_sat", Path: "bipolar.v_ce_sat", Symbol: `V_{CE(sat)}`, Meaning: "saturation voltage of the bipolar transistor", Dim: si.Voltage, at: func(c *Circuit) *si.Quantity { return &c.Bipolar.SaturationVoltage }},
		vBE:        {Name: "v_be", Path: "bipolar.v_be", Symbol: `V_{BE}`, Meaning: "base-emitter voltage", Dim: si.Voltage, at: func(c *Circuit) *si.Quantity { return &c.Bipolar.BaseVoltage }, standIn: fixed(0.8), why: "0.8 V, common practice"},
		forcedBeta: {Name: "forced_beta", Path: "bipolar.forced_beta", Symbol: `\beta`, Meaning: "collector current over base current in saturation", Dim: si.One, at: func(c *Circuit) *si.Quantity { return &c.Bipolar.ForcedBeta }, standIn: fixed(10), why: "10, the ratio at which saturation is usually specified"},

		bodyVoltage:     {Name: "body_voltage", Path: "body.voltage", Symbol: `V_b`, Meaning: "voltage of a charged person", Dim: si.Voltage, at: func(c *Circuit) *si.Quantity { return &c.Body.Voltage }},
		bodyCapacitance: {Name: "body_capacitance", Path: "body.capacitance", Symbol: `C_b`, Meaning: "capacitance of a person to ground", Dim: si.Capacitance, at: func(c *Circuit) *si.Quantity { return &c.Body.Capacitance }, standIn: fixed(100e-12), why: "100 pF, as in the human body model (JS-001)"},

		storeCapacitance: {Name: "store_capacitance", Path: "store.capacitance", Symbol: `C`, Meaning: "capacitance that holds a charge", Dim: si.Capacitance, at: func(c *Circuit) *si.Quantity { return &c.Store.Capacitance }},
		storeVoltage:     {Name: "store_voltage", Path: "store.voltage", Symbol: `V_0`, Meaning: "voltage it is charged to", Dim: si.Voltage, at: func(c *Circuit) *si.Quantity { return &c.Store.Voltage }},
		storeResistance:  {Name: "store_resistance", Path: "store.resistance", Symbol: `R`, Meaning: "resistance that empties it", Dim: si.Resistance, at: func(c *Circuit) *si.Quantity { return &c.Store.Resistance }},
		storeDownTo:      {Name: "store_down_to", Path: "store.down_to", Symbol: `V_1`, Meaning: "voltage it is to fall to", Dim: si.Voltage, at: func(c *Circuit) *si.Quantity { return &c.Store.DownTo }},
	}
}
