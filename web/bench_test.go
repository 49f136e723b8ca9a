package web

import (
	"net/http/httptest"
	"testing"
)

// The page of a problem before it is answered and after it has closed, and a
// lesson: time of the handler alone, and bytes on the wire.
func BenchmarkPage(b *testing.B) {
	w := newSite(b)
	open, closed := w.handed(twoStep), w.handed(twoStep)
	for i := range closed.t.Questions {
		w.answer(closed, closed.t.Questions[i].ID, closed.key.Answers[i].Text)
	}
	for name, address := range map[string]string{
		"open": "/work/" + open.work.Handed.ID, "closed": "/work/" + closed.work.Handed.ID,
		"lesson": "/lesson/" + w.s.course.Lessons[0].ID, "path": "/", "progress": "/progress",
	} {
		for _, encoding := range []string{"", "gzip"} {
			b.Run(name+"/"+encoding, func(b *testing.B) {
				size := 0
				b.ReportAllocs()
				for b.Loop() {
					r := request("GET", address, nil)
					r.Header.Set("Accept-Encoding", encoding)
					rec := httptest.NewRecorder()
					w.h.ServeHTTP(rec, r)
					if rec.Code != 200 {
						b.Fatal(rec.Code)
					}
					size = rec.Body.Len()
				}
				b.ReportMetric(float64(size), "wire-B")
			})
		}
	}
}

func BenchmarkAnswer(b *testing.B) {
	w := newSite(b)
	k := w.handed(twoStep)
	q, _ := first(k)
	for b.Loop() { // unreadable, so that no attempt is used
		r := request("POST", "/work/"+k.work.Handed.ID+"/answer", w.form(k, q.ID, "about a lot"))
		w.h.ServeHTTP(httptest.NewRecorder(), r)
	}
}
