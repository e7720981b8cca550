package bath

import (
	"time"

	"blackbath/bath/unit"
)

// A RecipeBook is one recipe with all its versions, newest last.
type RecipeBook struct {
	ID       int64
	Name     string
	Versions []Version
}

// A Version is what a recipe was at one time. Once a bath sheet was made from it, it never changes.
type Version struct {
	ID       int64
	RecipeID int64
	Number   int // 1, 2, ...
	Recipe   Recipe
	Change   string // what changed against the version before
	Why      string
	Proof    *Proof // nil: not proven anywhere yet
	MadeAt   time.Time
	MadeBy   string
	Used     bool // a bath sheet was made from it
	Edit     int64
}

// A Proof is how a recipe version was run when it proved itself: the tank, the load, and the ranges that the owner says are
// proven.
type Proof struct {
	Tank     Tank
	Load     unit.CubicCM  // metal of the load
	LoadArea unit.SquareDM // surface of the load; 0: not recorded
	Ranges   map[Figure]Range
}

// A Range is what the owner states as proven for one figure, in the figure's own unit.
type Range struct{ Lo, Hi float64 }

// A Figure is one of the things that another tank changes.
type Figure string

const (
	OpenSurfacePerLitre Figure = "open_surface_cm2_per_l"
	WaterLostPerHour    Figure = "water_lost_l_per_h"
	HeatUp              Figure = "heat_up_min"
	MetalPerLitre       Figure = "metal_dm2_per_l"
	MudDepth            Figure = "depth_cm"
	SandSettles         Figure = "sand_settles_min"
	SiltSettles         Figure = "silt_settles_min"
	FreeHeight          Figure = "freeboard_cm"
)

// Figures lists the figures in the order of the comparison.
var Figures = []Figure{OpenSurfacePerLitre, WaterLostPerHour, HeatUp, MetalPerLitre, MudDepth, SandSettles, SiltSettles, FreeHeight}
