// Package server is the web service: pages, forms and files over HTTP.
package server

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"net"
	"net/http"
	"time"

	"github.com/gin-gonic/gin"

	"blackbath/server/store"
	"blackbath/server/web"
	"blackbath/server/words"
)

// Config is what a server needs. Store must be set; the rest may be left out.
type Config struct {
	Store   *store.Store
	Version string       // of the program, printed on pages and kept with bath sheets
	Logger  *slog.Logger // nil: slog.Default()
}

// A Server answers requests. Its methods may be called from many goroutines.
type Server struct {
	store   *store.Store
	version string
	log     *slog.Logger
	assets  *web.Assets
	book    *words.Book
	pages   *pages
	exists  map[string]bool // the paths that can be read
	handler http.Handler
}

// New makes a server. A template or catalogue that is broken is found here.
func New(cfg Config) (*Server, error) { return build(cfg, web.Locales()) }

func build(cfg Config, locales fs.FS) (*Server, error) {
	if cfg.Store == nil {
		return nil, errors.New("make the server: no store")
	}
	s := &Server{store: cfg.Store, version: cfg.Version, log: cfg.Logger, exists: map[string]bool{}}
	if s.log == nil {
		s.log = slog.Default()
	}
	var err error
	if s.assets, err = web.LoadAssets(); err != nil {
		return nil, fmt.Errorf("make the server: %w", err)
	}
	if s.book, err = words.Load(locales); err != nil {
		return nil, fmt.Errorf("make the server: %w", err)
	}
	if s.pages, err = parsePages(web.Templates(), s.assets, s.book); err != nil {
		return nil, fmt.Errorf("make the server: %w", err)
	}
	engine, err := s.engine()
	if err != nil {
		return nil, fmt.Errorf("make the server: %w", err)
	}
	protection := http.NewCrossOriginProtection()
	protection.SetDenyHandler(withHeaders(http.HandlerFunc(s.refuseOrigin)))
	s.handler = protection.Handler(withHeaders(engine))
	return s, nil
}

// Handler returns the whole service.
func (s *Server) Handler() http.Handler { return s.handler }

// engine puts the routes into gin.
func (s *Server) engine() (*gin.Engine, error) {
	gin.SetMode(gin.ReleaseMode)
	e := gin.New()
	e.HandleMethodNotAllowed = true
	e.RedirectTrailingSlash = true
	if err := e.SetTrustedProxies(nil); err != nil {
		return nil, err
	}
	e.Use(s.recover, limit)
	e.NoRoute(s.adapt(anyone, s.notFound))
	e.NoMethod(s.adapt(anyone, s.wrongMethod))
	static := gin.WrapH(s.assets)
	e.GET("/static/*name", static)
	e.HEAD("/static/*name", static)
	for _, r := range s.routes() {
		h := s.adapt(r.who, r.do)
		e.Handle(r.method, r.path, h)
		if r.method == http.MethodGet {
			e.Handle(http.MethodHead, r.path, h)
			s.exists[r.path] = true
		}
	}
	return e, nil
}

// Time limits of a connection. The slowest page is a long list over a slow network.
const (
	headerTime = 5 * time.Second
	readTime   = 30 * time.Second
	writeTime  = 60 * time.Second
	idleTime   = 2 * time.Minute
	stopTime   = 10 * time.Second
)

// Serve answers on the listener until ctx ends, then lets running requests finish.
func (s *Server) Serve(ctx context.Context, l net.Listener) error {
	srv := &http.Server{
		Handler:           s.handler,
		ReadHeaderTimeout: headerTime,
		ReadTimeout:       readTime,
		WriteTimeout:      writeTime,
		IdleTimeout:       idleTime,
		MaxHeaderBytes:    64 << 10,
		ErrorLog:          slog.NewLogLogger(s.log.Handler(), slog.LevelWarn),
	}
	ended := make(chan error, 1)
	go func() { ended <- srv.Serve(l) }()
	select {
	case err := <-ended:
		return fmt.Errorf("serve: %w", err)
	case <-ctx.Done():
	}
	stop, cancel := context.WithTimeout(context.WithoutCancel(ctx), stopTime)
	defer cancel()
	if err := srv.Shutdown(stop); err != nil {
		return fmt.Errorf("stop: %w", err)
	}
	if err := <-ended; !errors.Is(err, http.ErrServerClosed) {
		return fmt.Errorf("serve: %w", err)
	}
	return nil
}
