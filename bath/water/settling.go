package water

import "math"

// StokesReynoldsLimit is the particle Reynolds number below which Stokes' law
// holds. Above it a grain sinks more slowly than SettlingSeconds says: by about
// a quarter at 2 to 3.
const StokesReynoldsLimit = 1.0

const gravityMPerS2 = 9.80665 // standard gravity, CGPM 1901

// SettlingSeconds is the time, in seconds, that a round grain of diameterMM
// takes to sink fallCM through a liquid at rest: Stokes' law. It is +Inf for a
// grain that is no denser than the liquid, since that never settles.
//
// The law is for single grains: less than about 30 g of earth per litre, grains
// apart, SettlingReynolds below StokesReynoldsLimit. In a thick mud the grains
// hinder each other and settle many times more slowly; in a salty bath fine
// clay clumps and settles sooner.
//
// Formula: G. G. Stokes 1851, in the form ISO 11277 uses for the pipette method.
func SettlingSeconds(diameterMM, fallCM, particleDensityKgM3, liquidDensityKgM3, viscosityPaS float64) float64 {
	return fallCM / 100 / settlingMPerS(diameterMM, particleDensityKgM3, liquidDensityKgM3, viscosityPaS)
}

// SettlingReynolds is the particle Reynolds number of a grain sinking as
// SettlingSeconds has it, the measure of whether Stokes' law holds for it.
func SettlingReynolds(diameterMM, particleDensityKgM3, liquidDensityKgM3, viscosityPaS float64) float64 {
	speed := settlingMPerS(diameterMM, particleDensityKgM3, liquidDensityKgM3, viscosityPaS)
	return liquidDensityKgM3 * speed * diameterMM / 1000 / viscosityPaS
}

func settlingMPerS(diameterMM, particleDensityKgM3, liquidDensityKgM3, viscosityPaS float64) float64 {
	d := diameterMM / 1000
	heavier := math.Max(0, particleDensityKgM3-liquidDensityKgM3)
	return gravityMPerS2 * heavier * d * d / (18 * viscosityPaS)
}
