package bath

import (
	"testing"

	"blackbath/bath/salt"
)

// BenchmarkScale is one scaling of a six-part recipe, cautions and all.
func BenchmarkScale(b *testing.B) {
	r, tank, c := example()
	r.Parts = append(r.Parts, Part{Kind: Salt, Salt: salt.PotassiumNitrate, Mass: 20, AssayPct: ptr(99.0)})
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Scale(r, tank, c); err != nil {
			b.Fatal(err)
		}
	}
}
