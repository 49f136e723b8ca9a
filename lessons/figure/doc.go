// Package figure draws what a lesson and a problem show: the schematic of a
// circuit, the extract of a datasheet, the answer line and plots. A figure is a
// [Scene] of strokes and text in plain numbers, so that the same drawing can be
// written as SVG, and every figure carries its facts in words.
//
// # Classes and colours
//
// No figure holds a style element or a style attribute. An SVG carries class
// "fig" and one of "schematic", "answer-line", "plot", "cross-section", "ladder",
// "waveforms", "bipolar", "bench". Its parts carry the class
// of their role, and as presentation attribute the custom property of the same
// role, so a stylesheet need only define the properties:
//
//	class   property    meaning
//	ink     --ink       strokes and text
//	soft    --soft      secondary text, leaders, ticks
//	rule    --rule      grid
//	paper   --paper     inside of symbols
//	wash    --wash      quiet areas
//	accent  --copper    the learner's own answer
//	holds   --holds     the accepted band, the key
//	fails   --fails     limits, what is beyond them
//	tight   --tight     what is inside the customary margin
//	hatch   --holds     hatched area, by a pattern inside the figure
//	num     -           text made of figures: wants tabular numerals
//
// A stylesheet should give .fig max-width:100% and height:auto, and must not set
// fill or stroke on all text or paths of a figure. [Responsive] wraps two drawings of one
// figure in "fig-wide" and "fig-narrow": exactly one of them is to be displayed.
//
// A datasheet is <section class="sheet"> with a paragraph "sheet-name", a
// paragraph "sheet-line" and tables of class "sheet-table"; cells of numbers carry
// class "n". The table of a plot's points is of class "points".
//
// Every id in the output starts with the id given by the caller.
package figure
