package bath

import "blackbath/bath/unit"

// A Shape is the inner form of a tank.
type Shape string

const (
	Box      Shape = "box"      // LengthCM, WidthCM, HeightCM
	Cylinder Shape = "cylinder" // DiameterCM, HeightCM
	Cone     Shape = "cone"     // BottomDiameterCM (may be 0), TopDiameterCM, HeightCM; either end may be the wider
	Bowl     Shape = "bowl"     // RimDiameterCM, DepthCM, at most half the diameter: a spherical cap
	Drum     Shape = "drum"     // a lying cylinder: DiameterCM, LengthCM
	Marks    Shape = "marks"    // a dip-stick table
)

// Shapes lists the shapes in the order in which a form offers them.
var Shapes = []Shape{Box, Cylinder, Cone, Bowl, Drum, Marks}

// A Wall is what a tank is made of.
type Wall string

// Walls are the materials that a caution may speak of, and other.
var Walls = []Wall{
	"galvanised-steel", "aluminium", "copper", "brass", "mild-steel", "stainless-steel", "enamelled-steel", "stoneware", "glass",
	"polypropylene", "pvdf", "titanium", "other",
}

// A Mark is a dip-stick height with the volume measured under it.
type Mark struct {
	Level  unit.Centimetre
	Volume unit.Litre
}

// A Tank is a vessel by its inner sizes. Fields that its shape does not use are 0.
type Tank struct {
	Name  string
	Shape Shape

	Length, Width, Height                 unit.Centimetre
	Diameter, BottomDiameter, TopDiameter unit.Centimetre
	RimDiameter, Depth                    unit.Centimetre
	MarkTable                             []Mark           // Marks: first 0 and 0, both rising
	Rim                                   *unit.Centimetre // Marks: height of the rim, at or above the last mark; nil: the last mark

	// Freeboard is the height left free between the fill line and the rim: 0 <= Freeboard < depth.
	Freeboard unit.Centimetre
	HeaterKW  *unit.Kilowatt // power that reaches the bath; nil: no heater known
	Wall      Wall           // "": not recorded
}
