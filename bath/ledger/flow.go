package ledger

// A flow is a way in which amounts come and go.
type flow int

const (
	flowIn flow = iota
	flowEvaporated
	flowDraggedOut
	flowDumped
	flowGassed
	flowReacted
	flowTakenUp
	flowAdjusted
	flowCount
)

// flows are what each way has brought, signed: water and dry earth in g, ions in mol.
type flows [flowCount]amounts

// move changes an amount and books it.
func (r *replay) move(f flow, i int, by float64) {
	old := r.x[i]
	r.x[i] += by
	r.flows[f][i] += r.x[i] - old
}

// Balance is where an amount came from and where it went, signed, adding up to Now. What is 0 may be absent.
type Balance struct {
	In         float64 `json:"in"`
	Evaporated float64 `json:"evaporated,omitempty"`
	DraggedOut float64 `json:"dragged_out,omitempty"`
	Dumped     float64 `json:"dumped,omitempty"`
	Gassed     float64 `json:"gassed,omitempty"`
	Reacted    float64 `json:"reacted,omitempty"`
	TakenUp    float64 `json:"taken_up,omitempty"`
	Adjusted   float64 `json:"adjusted,omitempty"`
	Now        float64 `json:"now"`
}

// Balances of water, dry earth and ions, in g.
type Balances struct {
	Water    Balance         `json:"water_g"`
	EarthDry Balance         `json:"earth_dry_g"`
	Ions     map[Ion]Balance `json:"ions_g"`
}

func (r *replay) balances() Balances {
	of := func(i int, gram float64) Balance {
		f := func(way flow) float64 { return r.flows[way][i] * gram }
		return Balance{
			In: f(flowIn), Evaporated: f(flowEvaporated), DraggedOut: f(flowDraggedOut), Dumped: f(flowDumped), Gassed: f(flowGassed),
			Reacted: f(flowReacted), TakenUp: f(flowTakenUp), Adjusted: f(flowAdjusted), Now: r.x[i] * gram,
		}
	}
	b := Balances{Water: of(waterAt, 1), EarthDry: of(earthAt, 1), Ions: make(map[Ion]Balance, ionCount)}
	for i := range ions {
		b.Ions[ions[i].name] = of(ionsAt+i, ions[i].molarMass)
	}
	return b
}
