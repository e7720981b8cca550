package view

import (
	"blackbath/bath"
	"blackbath/bath/input"
)

// ShapeName is the word for a tank's shape.
func ShapeName(s bath.Shape) input.Text {
	switch s {
	case bath.Box:
		return input.Say("Box")
	case bath.Cylinder:
		return input.Say("Upright cylinder")
	case bath.Cone:
		return input.Say("Pot with slanting walls")
	case bath.Bowl:
		return input.Say("Bowl")
	case bath.Drum:
		return input.Say("Lying drum")
	case bath.Marks:
		return input.Say("Any shape, by marks")
	}
	return input.Say("not recorded")
}

// WallName is the word for what a tank is made of.
func WallName(w bath.Wall) input.Text {
	switch w {
	case "galvanised-steel":
		return input.Say("galvanised steel")
	case "aluminium":
		return input.Say("aluminium")
	case "copper":
		return input.Say("copper")
	case "brass":
		return input.Say("brass")
	case "mild-steel":
		return input.Say("plain steel")
	case "stainless-steel":
		return input.Say("stainless steel")
	case "enamelled-steel":
		return input.Say("enamelled steel")
	case "stoneware":
		return input.Say("stoneware")
	case "glass":
		return input.Say("glass")
	case "polypropylene":
		return input.Say("polypropylene, PP")
	case "pvdf":
		return input.Say("polyvinylidene fluoride, PVDF")
	case "titanium":
		return input.Say("titanium")
	case "other":
		return input.Say("something else")
	}
	return input.Say("not recorded")
}
