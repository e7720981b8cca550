package server

import (
	"context"
	"fmt"
	"net/http"
	"runtime/debug"
	"time"

	"github.com/gin-gonic/gin"
)

// policy lets a page load nothing but the service's own files and send nothing anywhere else.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self'; " +
	"connect-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"

// withHeaders puts the headers on every answer that keep a browser from being talked into anything.
func withHeaders(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		next.ServeHTTP(w, r)
	})
}

const (
	largestBody = 1 << 20
	requestTime = 20 * time.Second
)

// limit bounds how much a request may send and how long it may take.
func limit(c *gin.Context) {
	ctx, cancel := context.WithTimeout(c.Request.Context(), requestTime)
	defer cancel()
	c.Request = c.Request.WithContext(ctx)
	c.Request.Body = http.MaxBytesReader(c.Writer, c.Request.Body, largestBody)
	c.Next()
}

// recover turns a panic into the page for our own faults, with the place of it in the log.
func (s *Server) recover(c *gin.Context) {
	defer func() {
		p := recover()
		switch {
		case p == nil:
			return
		case p == http.ErrAbortHandler:
			panic(p)
		}
		s.log.Error("panic", "method", c.Request.Method, "path", c.Request.URL.Path, "panic", fmt.Sprint(p), "stack", string(debug.Stack()))
		c.Abort()
		if !c.Writer.Written() {
			s.plainFailure(c.Writer)
		}
	}()
	c.Next()
}
