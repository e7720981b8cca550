package bath

import (
	"fmt"
	"math"

	"blackbath/bath/unit"
	"blackbath/bath/water"
)

// ProvenMargin is how far a figure may lie from the one in the tank where the recipe was proven, as a fraction of it, when
// the owner has stated no range. It is chosen here, not measured: the figures themselves are no surer than this.
const ProvenMargin = 0.10

// The finest grain of each class; once it is down, the whole class is (ISO 14688-1).
const (
	finestSandMM = 0.063
	finestSiltMM = 0.002
)

// A Side says where a figure lies against the proven range.
type Side string

const (
	Inside   Side = "inside"
	Above    Side = "above"
	Below    Side = "below"
	NotKnown Side = "not_known" // it cannot be had in one of the two tanks
)

// A MoveLine sets one figure in the tank where the recipe was proven beside the same figure in another tank.
type MoveLine struct {
	Figure Figure
	Proven *float64 // nil: not known there
	Now    *float64 // nil: not known here
	Range  Range    // meaningless when Side is NotKnown
	Stated bool     // the owner stated the range; else it is Proven ± [ProvenMargin]
	Side   Side
}

// Move compares a scaled recipe with the same recipe, on the same day and at the same place, in the tank where it was proven.
// There is one line for each of [Figures], in that order.
func Move(r Recipe, p Proof, t Tank, c Conditions, loadArea unit.SquareDM, now Answer) ([]MoveLine, error) {
	there := c
	there.Load = p.Load
	then, err := Scale(r, p.Tank, there)
	if err != nil {
		return nil, fmt.Errorf("bath: scale to the tank where the recipe was proven: %w", err)
	}
	grain := r.meanGrainDensity()
	before, after := figures(then, p.LoadArea, grain), figures(now, loadArea, grain)
	before[FreeHeight], after[FreeHeight] = ptr(float64(p.Tank.Freeboard)), ptr(float64(t.Freeboard))
	lines := make([]MoveLine, len(Figures))
	for i, f := range Figures {
		lines[i] = compare(f, before[f], after[f], p.Ranges)
	}
	return lines, nil
}

func compare(f Figure, proven, now *float64, stated map[Figure]Range) MoveLine {
	line := MoveLine{Figure: f, Proven: proven, Now: now, Side: NotKnown}
	line.Range, line.Stated = stated[f]
	if now == nil || (proven == nil && !line.Stated) {
		return line
	}
	if !line.Stated {
		line.Range = Range{*proven * (1 - ProvenMargin), *proven * (1 + ProvenMargin)}
	}
	switch {
	case *now < line.Range.Lo:
		line.Side = Below
	case *now > line.Range.Hi:
		line.Side = Above
	default:
		line.Side = Inside
	}
	return line
}

// figures are what another tank changes. A nil figure cannot be had. Settling is by Stokes' law in clear liquid of water's
// viscosity: in thick mud the grains hinder each other, so the true times are longer.
func figures(a Answer, loadArea unit.SquareDM, grainGCM3 float64) map[Figure]*float64 {
	perL := func(x float64) *float64 { return ptr(x / float64(a.HotBathL)) }
	out := map[Figure]*float64{
		OpenSurfacePerLitre: perL(float64(a.OpenSurface)),
		MudDepth:            ptr(float64(a.Levels.Loaded)),
	}
	if a.Evaporation != nil {
		out[WaterLostPerHour] = ptr(float64(*a.Evaporation))
	}
	if a.HeatUp != nil {
		out[HeatUp] = ptr(float64(*a.HeatUp))
	}
	if loadArea > 0 {
		out[MetalPerLitre] = perL(float64(loadArea))
	}
	if a.Details.EarthDry > 0 {
		settle := func(mm float64) *float64 {
			s := water.SettlingSeconds(mm, float64(a.Levels.Loaded), 1000*grainGCM3, 1000*float64(a.Details.LiquidHot),
				water.ViscosityPaS(float64(a.Details.WorkingTemp)))
			if math.IsInf(s, 0) { // a grain no denser than the liquid never settles
				return nil
			}
			return ptr(s / 60)
		}
		out[SandSettles], out[SiltSettles] = settle(finestSandMM), settle(finestSiltMM)
	}
	return out
}

// meanGrainDensity is that of all the earth together, by volume.
func (r Recipe) meanGrainDensity() float64 {
	var mass, volume float64
	for _, p := range r.Parts {
		if p.Kind == Earth {
			mass += float64(p.Mass)
			volume += float64(p.Mass / unit.Gram(p.grainDensity()))
		}
	}
	if volume == 0 {
		return float64(DefaultParticleDensity)
	}
	return mass / volume
}
