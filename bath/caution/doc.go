// Package caution says what can go wrong with a step of the work, from the facts that are known about it.
//
// [Judge] runs one table of rules over [Facts]. A rule is a condition in a small language, a text to show and a source.
// Logic has three values: a fact that the step asks for and nobody gave is unknown, and a rule that hangs on it answers
// "not known" rather than keep silent. No caution means that no rule matched, never that a step is safe.
//
// Local law, the supplier's safety data sheet and a trained person on the spot come before every text in here.
//
// # Conditions
//
//	FACT = WORD    FACT in {WORD, ...}    FACT < <= = >= > NUMBER    unknown(FACT)
//	SET has X      SET has {X, Y}         nh3_pct >= NUMBER
//	not C          C and C                C or C                     ( C )
//
// SETs are incoming (what this step brings in), liquor (the bath once that is done), around (liquor and what stands near)
// and spill. X is a substance, a group of substances, earth or unidentified. "not" binds before "and", "and" before "or".
//
// The package is pure: it has no clock, no database and no language but English. Texts are constants, so that a caller can
// look a translation up by the text itself (see [Answer.TextIn]).
package caution
