package water

import "math"

// The room that is assumed when nobody has measured it.
const (
	DefaultRoomC  = 25.0
	DefaultRoomRH = 0.50 // relative humidity, 0 to 1
)

// The uncertainty of EvaporationKgPerM2H as a fraction of its result. Over
// 0.07 to 425 m2 and 7 to 94 C the correlation deviates from published
// measurements by 18 % on average (Shah 2002), and tables for hot open tanks lie
// up to 23 % away from it, so 30 % is shown. A draught is taken into account
// only by a rough factor: 50 %. Foam, a lid or a floating crust lower the true
// figure by more than either.
const (
	EvaporationUncertainty        = 0.30
	EvaporationDraughtUncertainty = 0.50
)

// BoilingShare is the share of the air pressure from which the bath's vapour
// pressure counts as boiling: evaporation is then set by the heater
// (BoilOffKgPerH), no longer by the air.
const BoilingShare = 0.97

const (
	// vapourRatio is the mass of a mole of water over that of a mole of dry air.
	vapourRatio = 0.62198
	// dryAirJPerKgK is the gas constant of dry air.
	dryAirJPerKgK = 287.055
	// draughtPerMPerS raises the still-air figure: the ratio of the two constants
	// of the pool equation (95 + 37.4 V, V in mph) of the ASHRAE handbook.
	draughtPerMPerS = 0.88
	// stillAir and coldSurface are Shah's constants for a surface that makes
	// air rise and for one that does not; the second is (from memory).
	stillAir    = 35
	coldSurface = 5e-5
)

// EvaporationKgPerM2H is the mass of water, in kg, that an open bath below
// boiling loses per m2 of surface and hour. waterActivity (0 to 1, 1 for plain
// water) lowers the vapour pressure for dissolved salt; roomRH is the relative
// humidity of the room (0 to 1); airMPerS is the speed of the air over the bath
// (0 if unknown). The result is never below 0; its uncertainty is
// EvaporationUncertainty.
//
// ok is false, and the figure 0, when the bath boils or nearly boils (its
// vapour pressure is BoilingShare of the air pressure or more), or when an
// input is not a finite number in its range. Use BoilOffKgPerH for a boiling
// bath.
//
// Formula: M. M. Shah, "Simplified method of calculating evaporation from
// swimming pools and other water surfaces", ASHRAE Transactions 120(2) (2014)
// SE-14-001, after M. M. Shah, HVAC&R Research 8(1) (2002) 125-131.
func EvaporationKgPerM2H(bathC, waterActivity, pressurePa, roomC, roomRH, airMPerS float64) (kgPerM2H float64, ok bool) {
	surfacePa := waterActivity * VapourPressurePa(bathC)
	roomPa := roomRH * VapourPressurePa(roomC)
	// Written so that a NaN fails every test.
	inRange := waterActivity >= 0 && waterActivity <= 1 && roomRH >= 0 && roomRH <= 1 &&
		airMPerS >= 0 && !math.IsInf(airMPerS, 1) && kelvin(bathC) > 0 && kelvin(roomC) > 0
	if !inRange || !(surfacePa < BoilingShare*pressurePa && roomPa < pressurePa) || math.IsInf(pressurePa, 1) {
		return 0, false
	}
	return SurfaceEvaporationKgPerM2H(surfacePa, bathC, pressurePa, roomPa, roomC, airMPerS), true
}

// SurfaceEvaporationKgPerM2H is the formula of EvaporationKgPerM2H by the vapour pressures themselves, surfacePa over the bath
// and roomPa in the room, both below pressurePa. Never below 0.
func SurfaceEvaporationKgPerM2H(surfacePa, bathC, pressurePa, roomPa, roomC, airMPerS float64) float64 {
	surfaceAir := dryAirKgPerM3(surfacePa, pressurePa, bathC)
	roomAir := dryAirKgPerM3(roomPa, pressurePa, roomC)
	var still float64
	if roomAir > surfaceAir {
		surfaceRatio := vapourRatio * surfacePa / (pressurePa - surfacePa)
		roomRatio := vapourRatio * roomPa / (pressurePa - roomPa)
		still = stillAir * surfaceAir * math.Cbrt(roomAir-surfaceAir) * (surfaceRatio - roomRatio)
	} else {
		still = coldSurface * (surfacePa - roomPa)
	}
	return max(0, still*(1+draughtPerMPerS*airMPerS))
}

// dryAirKgPerM3 is the mass of dry air in 1 m3 of moist air.
func dryAirKgPerM3(vapourPa, pressurePa, tC float64) float64 {
	return (pressurePa - vapourPa) / (dryAirJPerKgK * kelvin(tC))
}

// BoilOffKgPerH is the mass of water, in kg, that netKW of heat reaching a
// boiling bath turns into steam in an hour, at boilingC degrees Celsius. Never
// below 0.
func BoilOffKgPerH(netKW, boilingC float64) float64 {
	return max(0, 3600*netKW/LatentHeatKJPerKg(boilingC))
}
