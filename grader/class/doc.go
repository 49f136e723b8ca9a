// Package class holds the rules of a class, without storage and without pages:
// what a problem set is and when it is open, which version a learner gets, what
// an attempt earns, and what the marks of many say about the questions.
//
// The formulas of item analysis are those of classical test theory; where the
// variance of the whole score enters, it is that of the population, as in the
// published worked example that the tests hold them against.
package class
