package bath

import (
	"encoding/json"
	"time"

	"blackbath/bath/unit"
)

// A BathSheet is a kept scaling: what hangs by the tank. It keeps the inputs and the figures as they were printed, so that a
// later formula or a changed lot never rewrites paper.
type BathSheet struct {
	ID        int64
	Number    int // counts up within the workshop
	EntryKey  string
	VersionID int64
	TankID    int64
	LotIDs    []int64 // per part of Recipe, in order; 0: no lot chosen

	Recipe     Recipe // with the moisture, assay and grain density of the lots on that day
	Tank       Tank
	Conditions Conditions
	LoadArea   unit.SquareDM // surface of the load; 0: not recorded
	Answer     json.RawMessage
	Program    string // version of the program that worked it out
	MadeAt     time.Time
	MadeBy     string // as typed; may be empty
}
