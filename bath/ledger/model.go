package ledger

import (
	"blackbath/bath"
	"blackbath/bath/salt"
	"blackbath/bath/unit"
	"blackbath/bath/water"
)

// A model is what a bath's amounts mean: volume, boiling point, strengths. It holds no amounts itself.
type model struct {
	pairing
	tank       bath.Tank
	pressurePa float64
	roomPa     float64 // vapour in the room
	earthLPerG float64 // mean of all earth that ever came in
	straightM2 float64 // open surface of a tank that has the same at every level, else 0
}

func newModel(b *Bath) model {
	m := model{pairing: newPairing(&b.Recipe), tank: b.Tank, pressurePa: water.StandardPressurePa(float64(b.Altitude))}
	if b.WaterBoilsAt != nil {
		m.pressurePa = water.VapourPressurePa(float64(*b.WaterBoilsAt))
	}
	m.roomPa = b.Room.RHPercent / 100 * water.VapourPressurePa(float64(b.Room.Temp))
	if b.Tank.Shape == bath.Box || b.Tank.Shape == bath.Cylinder {
		m.straightM2 = float64(b.Tank.SurfaceAt(0)) / 10_000
	}
	m.earthLPerG = 1 / float64(bath.DefaultParticleDensity) / 1000
	return m
}

// volumeL is the mud's volume at a temperature; of a bath without water that of the earth alone.
func (m *model) volumeL(x *amounts, tC float64) float64 {
	l := m.liquor(x)
	return m.volumeOf(&l, x[earthAt], tC)
}

func (m *model) volumeOf(l *salt.Liquor, earthG, tC float64) float64 {
	v := earthG * m.earthLPerG
	if l.WaterG > 0 {
		v += l.VolumeL(tC)
	}
	return max(v, 0)
}

// boilsAtC is where the bath boils here. There has to be water.
func (m *model) boilsAtC(x *amounts) float64 {
	l := m.liquor(x)
	return water.BoilingC(m.pressurePa / l.WaterActivity())
}

// cut holds a temperature at the bath's boiling point.
func (m *model) cut(x *amounts, tC float64) float64 {
	if x[waterAt] <= 0 {
		return tC
	}
	l := m.liquor(x)
	t, _, _ := m.cutBy(l.WaterActivity(), tC)
	return t
}

// cutBy is cut for a known water activity, with plain water's vapour pressure and the bath's at the cut temperature.
func (m *model) cutBy(activity, tC float64) (cutC, plainPa, surfacePa float64) {
	plainPa = water.VapourPressurePa(tC)
	if activity*plainPa > m.pressurePa {
		plainPa = m.pressurePa / activity
		return water.BoilingC(plainPa), plainPa, m.pressurePa
	}
	return tC, plainPa, activity * plainPa
}

// surfaceM2 is the open surface with so much mud, the rim's if it stands above it.
func (m *model) surfaceM2(volumeL float64) float64 {
	level, ok := m.tank.LevelOf(unit.Litre(volumeL))
	if !ok {
		level = m.tank.RimHeight()
	}
	return float64(m.tank.SurfaceAt(level)) / 10_000
}

// massG is the mass of the mud.
func massG(x *amounts) float64 {
	sum := x[waterAt] + x[earthAt]
	for i := range ions {
		sum += x[ionsAt+i] * ions[i].molarMass
	}
	return sum
}

// litresUnder is the volume that mud takes under a level with so much metal in it.
func (m *model) litresUnder(level unit.Centimetre, metalG float64) float64 {
	return float64(m.tank.VolumeAt(level)) - metalG/alloyGPerCM3/1000
}
