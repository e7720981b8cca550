package caution

// A Severity says how bad it can get. Danger and Warning are the two signal words of the GHS; Note is not one of them and
// must not be drawn like one.
type Severity string

// The severities, worst first.
const (
	Danger  Severity = "danger"  // can kill, blind, burn deeply, gas a room or start a fire
	Warning Severity = "warning" // can injure, spoil air, harm water, or set off a danger later
	Note    Severity = "note"    // good practice with a safety side
)

// Label returns the word as a page shows it: Danger, Warning or Note.
func (s Severity) Label() string {
	switch s {
	case Danger:
		return "Danger"
	case Warning:
		return "Warning"
	case Note:
		return "Note"
	}
	return string(s)
}

// severities are in the order of an answer.
var severities = [...]Severity{Danger, Warning, Note}

// A State says whether a rule is met or could not be checked.
type State string

// The states; a rule that is not met is not in an answer.
const (
	Fires    State = "fires"
	NotKnown State = "not_known"
)

// states are in the order of an answer.
var states = [...]State{Fires, NotKnown}
