package ledger

import (
	"fmt"
	"testing"
	"time"

	"blackbath/bath/unit"
)

// days is a bath of n facts in d days: each day the heat goes on, six loads with a reading and a top-up in between, heat off.
func days(t testing.TB, n, d int) Bath {
	t.Helper()
	b := parsed(t, workedFile())
	b.Recipe.Temp.Target = 92
	at := b.Facts[0].At
	perDay := (n - 1) / d
	for day := range d {
		morning := at.AddDate(0, 0, day)
		for i := range perDay {
			f := Fact{ID: fmt.Sprintf("d%d-%d", day, i), At: morning.Add(time.Duration(i+1) * 10 * time.Hour / time.Duration(perDay+1))}
			temp := b.Recipe.Temp.Target
			switch {
			case i == 0:
				f.Kind = HeatOn
			case i == perDay-1:
				f.Kind = HeatOff
			case i%3 == 0:
				f.Kind = Read
				level, ph, density := unit.Centimetre(workedMarkCM), 5.5, 1.06
				f.Temp, f.Reading = &temp, &Reading{Level: &level, PH: &ph}
				if i%2 == 0 {
					d := unit.GramPerCM3(density)
					f.Reading.Density = &d
				}
			case i%3 == 1:
				f.Kind = TopUp
				level := unit.Centimetre(workedMarkCM)
				f.ToLevel = &level
			default:
				f.Kind = Soaked
				out, area, metal := f.At.Add(8*time.Minute), unit.SquareDM(42), unit.Gram(4200)
				f.Soak = &Soak{Out: &out, Area: &area, Metal: &metal}
			}
			b.Facts = append(b.Facts, f)
		}
	}
	return b
}

func benchmarkReplay(b *testing.B, n, d int) {
	bath := days(b, n, d)
	s, err := Replay(bath, nil)
	if err != nil {
		b.Fatal(err)
	}
	b.Logf("%d facts, %.0f h hot, %d soaks, %.2f L", len(bath.Facts), s.HotH, s.Soaks.Count, s.VolumeL)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Replay(bath, nil); err != nil {
			b.Fatal(err)
		}
	}
}

// 300 facts over six weeks: under 5 ms.
func BenchmarkReplay300(b *testing.B) { benchmarkReplay(b, 300, 42) }

// 5000 facts over a year: under 100 ms.
func BenchmarkReplay5000(b *testing.B) { benchmarkReplay(b, 5000, 300) }
