package server

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"slices"
	"sync"
	"testing"
	"time"

	"blackbath/server/web"
)

// BenchmarkScalePage asks for the scale page of a six-part recipe with everything that the page has: real handler, real
// database, the comparison with the proven tank. It reports the slowest hundredth as well.
func BenchmarkScalePage(b *testing.B) {
	s := newServer(b, web.Locales())
	setUp(b, s.store, someShop)
	shop := furnishScale(b, s.store)
	q := url.Values{"tank": {idText(shop.pot.ID)}, "load": {"4.2 kg"}, "load_area_dm2": {"40"}, "water_temp_c": {"25"}, "bucket_l": {"10"}}
	path := shop.path(shop.black) + "?" + q.Encode()
	h := s.Handler()
	var mu sync.Mutex
	var took []time.Duration
	b.ReportAllocs()
	b.ResetTimer()
	b.RunParallel(func(pb *testing.PB) {
		var mine []time.Duration
		for pb.Next() {
			w := httptest.NewRecorder()
			start := time.Now()
			h.ServeHTTP(w, httptest.NewRequest(http.MethodGet, path, nil))
			mine = append(mine, time.Since(start))
			if w.Code != http.StatusOK {
				b.Errorf("got status %d", w.Code)
				return
			}
		}
		mu.Lock()
		defer mu.Unlock()
		took = append(took, mine...)
	})
	b.StopTimer()
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)*99/100])/1e6, "p99-ms")
	b.ReportMetric(float64(len(took))/b.Elapsed().Seconds(), "pages/s")
}
