package caution

// A truth is one of three values, in the order of Kleene's strong logic (S. C. Kleene, Introduction to Metamathematics,
// 1952, section 64 (from memory)): "and" is the least of its parts, "or" the greatest.
type truth int8

const (
	no      truth = -1
	unknown truth = 0
	yes     truth = 1
)

// not swaps yes and no and leaves unknown alone.
func (t truth) not() truth { return -t }

func truthOf(b bool) truth {
	if b {
		return yes
	}
	return no
}
