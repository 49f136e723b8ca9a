// Package si holds the quantities of the trade: values with a dimension, how
// they are read as people type them, how they are printed, and the preferred
// values that parts are sold in.
//
// A [Quantity] is held in unprefixed SI units. [Read] takes what a learner
// types and says how it understood it; [Parse] takes what stands in a file, where
// the unit must be written. [Quantity.String] and [Quantity.Figures] print by
// the rules of the SI Brochure (9th edition, section 5.4): number, space, unit;
// prefix joined to the unit; leading zero before the decimal point. Input is
// taken far more liberally than output is given. [Series] holds the preferred
// values of IEC 60063, [RKM] the marking code of IEC 60062.
//
// It departs from the brochure in three points: a percentage is read as a ratio,
// a temperature on the Celsius scale (a point) is another dimension than a
// difference of temperatures, and no digit groups are printed, so that a printed
// number can be pasted anywhere.
//
// Numbers are kept as decimal text until they are complete and pass through
// package strconv once. So "20 m" is exactly the float 0.02, a half is rounded
// as it is written, and what was printed reads back as the same value.
package si
