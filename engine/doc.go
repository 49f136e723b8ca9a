// Package engine sizes a switched load: from a circuit (Circuit, read by
// ReadCircuit) to its quantities (Sizing) and to the checks that say whether it
// holds (Size, Report). It is pure computation: no files, no network, no clock. A
// number shown anywhere in the program was computed here.
//
// All values are in unprefixed SI units, temperatures in degrees Celsius. Every
// input and quantity has one Definition with name, symbol, unit, formula and the
// source of the formula; every default that a result leans on can be listed.
// Currents, losses, temperatures and energies are those of the highest supply
// voltage, the worst ordinary case; load_current alone is nominal.
//
// Supplies that are alternating or can exceed 60 V DC are refused: Refusal.
package engine
