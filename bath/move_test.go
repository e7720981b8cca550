package bath

import (
	"math"
	"testing"

	"blackbath/bath/unit"
)

// A recipe moved to the tank where it was proven leaves nothing.
func TestMoveToItsOwnTank(t *testing.T) {
	r, tank, c := example()
	now, err := Scale(r, tank, c)
	if err != nil {
		t.Fatal(err)
	}
	lines, err := Move(r, Proof{Tank: tank, Load: c.Load, LoadArea: 40}, tank, c, 40, now)
	if err != nil {
		t.Fatal(err)
	}
	if len(lines) != len(Figures) {
		t.Fatalf("%d lines, want one for each of %d figures", len(lines), len(Figures))
	}
	for i, l := range lines {
		if l.Figure != Figures[i] || l.Side != Inside || *l.Now != *l.Proven {
			t.Errorf("%s: now %v, proven %v, %s; want the same and inside", l.Figure, *l.Now, *l.Proven, l.Side)
		}
	}
}

// From a pot of 36 cm × 32 cm to a box of the same area of metal: figures worked by hand from areas and volumes.
func TestMoveToAnotherTank(t *testing.T) {
	r, pot, c := example()
	box := Tank{Name: "long box", Shape: Box, Length: 60, Width: 40, Height: 20, Freeboard: 8} // 28.8 L to the fill line, no heater
	now, err := Scale(r, box, c)
	if err != nil {
		t.Fatal(err)
	}
	stated := map[Figure]Range{MudDepth: {10, 30}}
	lines, err := Move(r, Proof{Tank: pot, Load: c.Load, LoadArea: 30, Ranges: stated}, box, c, 60, now)
	if err != nil {
		t.Fatal(err)
	}
	loadL := float64(c.Load) / 1000
	potL, boxL := math.Pi/4*36*36*26/1000-loadL, 28.8-loadL
	want := map[Figure]struct {
		proven, now float64
		side        Side
		stated      bool
	}{
		OpenSurfacePerLitre: {math.Pi / 4 * 36 * 36 / potL, 2400 / boxL, Above, false},
		MetalPerLitre:       {30 / potL, 60 / boxL, Above, false},
		MudDepth:            {26, 12, Inside, true}, // the owner's range, not 26 ± 10 %
		FreeHeight:          {6, 8, Above, false},
	}
	for _, l := range lines {
		w, checked := want[l.Figure]
		if !checked {
			continue
		}
		if math.Abs(*l.Proven-w.proven) > 1e-9*w.proven || math.Abs(*l.Now-w.now) > 1e-9*w.now || l.Side != w.side || l.Stated != w.stated {
			t.Errorf("%s: proven %.6g, now %.6g, %s, stated %t; want %.6g, %.6g, %s, %t", l.Figure, *l.Proven, *l.Now, l.Side, l.Stated, w.proven, w.now, w.side, w.stated)
		}
		delete(want, l.Figure)
	}
	if len(want) > 0 {
		t.Errorf("no line for %v", want)
	}
	for _, l := range lines {
		switch l.Figure {
		case HeatUp: // the box has no heater: unknown is not zero
			if l.Now != nil || l.Side != NotKnown {
				t.Errorf("heating in a tank without a heater: %v, %s; want not known", l.Now, l.Side)
			}
		case SandSettles: // Stokes: time grows with depth alone in one liquid
			if got := *l.Now / *l.Proven; math.Abs(got-12.0/26) > 1e-9 || l.Side != Below {
				t.Errorf("sand settles in %.4f of the proven time, %s; want %.4f of it, below", got, l.Side, 12.0/26)
			}
		}
	}
}

func TestMoveWithoutAreaOrEarth(t *testing.T) {
	r, tank, c := example()
	r.Parts = append(r.Parts[:1:1], r.Parts[2:]...)
	now, err := Scale(r, tank, c)
	if err != nil {
		t.Fatal(err)
	}
	lines, err := Move(r, Proof{Tank: tank}, tank, c, 0, now)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range lines {
		if (l.Figure == MetalPerLitre || l.Figure == SandSettles) && (l.Now != nil || l.Side != NotKnown) {
			t.Errorf("%s: %v, %s; want not known", l.Figure, l.Now, l.Side)
		}
	}
}

func TestMoveFromATankThatCannotTakeTheLoad(t *testing.T) {
	r, tank, c := example()
	now, err := Scale(r, tank, c)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Move(r, Proof{Tank: tank, Load: unit.CubicCM(1e6)}, tank, c, 0, now); err == nil {
		t.Error("a load bigger than the tank where it was proven gave no error")
	}
}
