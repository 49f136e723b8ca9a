package engine

// ID numbers what the engine knows by name: first the inputs of a circuit file,
// then the quantities computed from them.
type ID int16

// The inputs, in the order of a circuit file.
const (
	supplyVoltage ID = iota
	supplyMaximum
	supplyMinimum
	currentLimit
	fuse
	loopResistance

	givenCurrent
	loadPower
	loadResistance
	stallCurrent
	stallTime
	inductance
	coldRatio
	inrushTime
	loadCapacitance
	seriesResistance

	logicHigh
	logicHighMin
	logicLow
	pinCurrent
	pinCurrentMax
	pinResistance
	seriesResistor
	pullDown
	frequency
	duty
	supplyRise

	vds
	vgs
	vgsReverse
	id
	idPulse
	tj
	eas
	ias
	vthMin
	vthTyp
	vthMax
	vthAt
	qg
	qgAt
	qgs
	qgd
	vPlateau
	rGate
	cIss
	cOss
	cRss
	vsd
	thetaJC
	thetaJA

	ambient
	thetaCS
	thetaSA
	junctionLimit

	vF
	iF
	vRR
	qRR
	vZ

	wireLength
	crossSection
	wireRating

	vCE
	vBE
	forcedBeta

	bodyVoltage
	bodyCapacitance

	storeCapacitance
	storeVoltage
	storeResistance
	storeDownTo

	inputCount
)

// The computed quantities, in the order in which a sizing goes.
const (
	loadCurrent ID = inputCount + iota
	runningCurrent
	peakCurrent
	switchCurrent
	rippleCurrent
	currentRMS
	wireResistance
	wireDrop
	wireDropShare

	vdsStress
	vdsRatio

	vgsOn
	vgsOff
	vgsRequired

	RDSOnCold
	rdsOnRatio
	rdsOnHot
	lossConduction

	gateResistance
	gatePeakCurrent
	gateShortCurrent
	gateResistorMin
	gateResistorMinRecommended
	gateCharge
	gateChargeSwitching
	turnOnDelay
	turnOffDelay
	turnOnTime
	turnOffTime
	gateAverageCurrent
	gateDrivePower
	gatesPerPin

	switchingEnergy
	lossSwitching
	lossTotal
	lossLimit
	lossStall
	rdsOnLimit

	thetaTotal
	junctionTemperature
	junctionTemperatureStall
	tabTemperature
	heatsinkRequired
	currentMaxThermal
	frequencyMax
	frequencyMaxEdges

	inductiveEnergy
	freewheelDecayTime
	freewheelAverageCurrent
	freewheelLoss
	avalancheEnergy

	zThStall
	zThPulse
	pulsePower
	pulseTemperatureRise
	gateBump
	pullDownMax
	pullDownDischargeTime

	shortCircuitCurrent
	storedEnergy
	dischargeTime
	sharedChargeVoltage

	baseCurrent
	baseResistor
	lossBJT

	idCount
)
