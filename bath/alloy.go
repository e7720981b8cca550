package bath

import "blackbath/bath/unit"

// Densities at 25 °C, kg/L (CRC Handbook of Chemistry and Physics).
const (
	zincKGPerL   = 7.14
	copperKGPerL = 8.96
)

// AlloyVolume is the room that a mass of zinc-copper alloy takes, as if the two metals kept their own volumes: good to about 1 %
// for the few percent of copper that such ware has. copperPct is the copper's share of the mass.
//
//	V = m ((1 - c)/7.14 + c/8.96) L, c the mass fraction of copper
func AlloyVolume(mass unit.Gram, copperPct float64) unit.CubicCM {
	c := copperPct / 100
	return unit.Litre(mass.Kilograms() * ((1-c)/zincKGPerL + c/copperKGPerL)).CubicCM()
}
