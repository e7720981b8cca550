package ledger

// An Answer is a state with the advice that was asked for, as the command prints it.
type Answer struct {
	State
	Advice   *Advice   `json:"advice,omitempty"`
	Warnings []Warning `json:"warnings"`
}

// NewAnswer puts a state and its advice together, nil when none was asked for; a warning of both stands once.
func NewAnswer(s State, advice *Advice) Answer {
	w := newWarnings(s.Warnings)
	if advice != nil {
		for _, more := range advice.Warnings {
			w.add(more.Code, more.Facts...)
		}
	}
	return Answer{s, advice, append([]Warning{}, w.list...)}
}
