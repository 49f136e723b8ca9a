// Package grader marks responses: it reads a quantity as people write it, holds
// it against the accepted band, and says of a wrong answer why it is wrong.
//
// A wrong answer is a value, not an error: every question gets one [Outcome] of
// a closed set. Errors are for templates that break their word. What is tried,
// in this order: right; right from the learner's own earlier answer; a slip of
// the template; a generic slip; wrong, with how far off and in which direction.
// A slip is named only when the response fits that slip and no other, nor the
// right answer.
package grader
