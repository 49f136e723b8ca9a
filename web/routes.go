package web

import (
	"net/http"

	"github.com/go-chi/chi/v5"
	"github.com/go-chi/chi/v5/middleware"
)

// Handler is the map of addresses.
func (s *Server) Handler() http.Handler {
	r := chi.NewRouter()
	r.Use(s.logged, secured, s.onlyHost, s.recovered, limited, middleware.GetHead)
	r.Use(middleware.Compress(gzipLevel, "text/html", "text/css", "text/javascript", "text/plain", "application/json", "image/svg+xml"))

	r.Get("/", s.handle(s.pathPage))
	r.Get("/lesson/{id}", s.handle(s.lessonPage))

	r.Get("/problem/{template}", s.handle(s.beginPage))
	r.Post("/problem/{template}", s.handle(s.begin))
	r.Get("/work/{handed}", s.handle(s.workPage))
	r.Post("/work/{handed}/answer", s.handle(s.answer))
	r.Post("/work/{handed}/open", s.handle(s.open))
	r.Post("/work/{handed}/step", s.handle(s.fillStep))
	r.Get("/work/{handed}/{what}", s.handle(func(w http.ResponseWriter, r *http.Request) error {
		return seeOther(w, r, "/work/"+chi.URLParam(r, "handed")) // a form's address, loaded as a page
	}))
	r.Get("/read", s.handle(s.readAnswer))

	r.Get("/pause/{id}", s.handle(s.pausePage))
	r.Post("/pause/{id}", s.handle(s.pauseBegin))

	r.Get("/practice", s.handle(s.practicePage))
	r.Post("/practice", s.handle(s.practise))
	r.Get("/progress", s.handle(s.progressPage))
	r.Get("/glossary", s.handle(s.glossaryPage))
	r.Get("/card", s.handle(s.cardPage))
	r.Get("/sources", s.handle(s.sourcesPage))
	r.Get("/about", s.handle(s.aboutPage))

	r.Get("/reading", s.handle(s.readingPage))
	r.Post("/reading", s.handle(s.setReading))

	r.Get("/static/{hash}/*", s.handle(func(w http.ResponseWriter, r *http.Request) error {
		return s.assets.serve(w, r, chi.URLParam(r, "hash"), chi.URLParam(r, "*"))
	}))

	r.NotFound(s.handle(s.missing))
	r.MethodNotAllowed(s.handle(func(http.ResponseWriter, *http.Request) error {
		return &pageError{status: http.StatusMethodNotAllowed, title: "Not this way", say: "This address is not made for that kind of request. Begin at the path of lessons."}
	}))

	foreign := http.NewCrossOriginProtection()
	foreign.SetDenyHandler(secured(s.handle(func(http.ResponseWriter, *http.Request) error {
		return &pageError{status: http.StatusForbidden, title: "Not from another site", say: "This was sent from another site, so it was not taken. Open the program's own address and do it there."}
	})))
	return foreign.Handler(r)
}
