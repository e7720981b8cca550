package server

import (
	"errors"
	"net/http"
	"net/url"
	"strconv"
	"time"

	"github.com/gin-gonic/gin"

	"blackbath/bath"
	"blackbath/bath/input"
	"blackbath/server/form"
	"blackbath/server/store"
	"blackbath/server/view"
	"blackbath/server/words"
)

// A visit is one request with what every page wants to know: the workshop and the language.
type visit struct {
	*gin.Context
	server *Server
	words  *words.Words
	shop   bath.Workshop // ID 0 before the first run
}

// adapt makes a gin handler of one of ours: it finds the workshop and the language first, and turns an error into a page.
func (s *Server) adapt(who audience, do func(*visit) error) gin.HandlerFunc {
	return func(c *gin.Context) {
		v := &visit{Context: c, server: s, words: s.book.Match(c.GetHeader("Accept-Language"))}
		shop, err := s.store.Workshop(c.Request.Context())
		switch {
		case err == nil:
			v.shop = shop
			v.words = s.book.In(shop.Language)
		case !errors.Is(err, store.ErrNotFound):
			s.fail(v, err)
			return
		case who == workshop:
			c.Redirect(http.StatusSeeOther, "/start")
			return
		}
		if err := do(v); err != nil {
			s.fail(v, err)
		}
	}
}

// T translates a sentence.
func (v *visit) T(format string, args ...any) string { return v.words.T(format, args...) }

// text translates a kept sentence.
func (v *visit) text(t input.Text) string { return v.words.Text(t) }

// zone is the workshop's time zone.
func (v *visit) zone() *time.Location { return zone(v.shop.TimeZone) }

// base makes the frame of a page. title is translated already.
func (v *visit) base(title string) view.Base {
	return view.Base{
		Format: view.Format{
			Words: v.words, Zone: v.zone(), Step: v.shop.BalanceStep, Currency: v.shop.Currency,
		},
		Title:    title,
		Language: v.words.Tag(),
		Light:    v.light(),
		Workshop: v.shop.Name,
		Invented: v.shop.Invented,
		Places:   v.server.places(v),
		Said:     v.said(),
		Version:  v.server.version,
	}
}

// page renders a page whole before the first byte of it is sent.
func (v *visit) page(status int, name string, data any) error {
	b := buffers.get()
	defer buffers.put(b)
	if err := v.server.pages.render(b, v.words.Tag(), name, data); err != nil {
		return err
	}
	h := v.Writer.Header()
	h.Set("Content-Type", "text/html; charset=utf-8")
	h.Set("Cache-Control", "no-store")
	h.Set("Content-Length", strconv.Itoa(b.Len()))
	v.Status(status)
	if v.Request.Method == http.MethodHead {
		v.Writer.WriteHeaderNow()
		return nil
	}
	_, _ = v.Writer.Write(b.Bytes()) // a reader who went away is nobody's fault
	return nil
}

// csv sends a table as a file.
func (v *visit) csv(name string, t view.Table) error {
	b := buffers.get()
	defer buffers.put(b)
	if err := t.WriteCSV(b); err != nil {
		return err
	}
	v.Header("Content-Disposition", `attachment; filename="`+name+`"`)
	v.Header("Cache-Control", "no-store")
	v.Data(http.StatusOK, "text/csv; charset=utf-8", b.Bytes())
	return nil
}

// form reads what was sent.
func (v *visit) form() (*form.Form, error) {
	if err := v.Request.ParseForm(); err != nil {
		return nil, badRequest(err)
	}
	return form.Read(v.Request.PostForm), nil
}

// id reads a whole number from the path; another is nothing that could be found.
func (v *visit) id(name string) (int64, error) {
	n, err := strconv.ParseInt(v.Param(name), 10, 64)
	if err != nil || n <= 0 {
		return 0, store.ErrNotFound
	}
	return n, nil
}

// seeOther leads on after something was done. said is an English sentence that the next page shows once, translated;
// empty: nothing to say.
func (v *visit) seeOther(path, said string) error {
	if said != "" {
		v.cookie(saidCookie, url.QueryEscape(said), time.Minute)
	}
	v.Redirect(http.StatusSeeOther, path)
	return nil
}

const (
	saidCookie  = "said"
	lightCookie = "light"
)

// cookie sets one that scripts can't read and other sites don't send.
func (v *visit) cookie(name, value string, life time.Duration) {
	http.SetCookie(v.Writer, &http.Cookie{
		Name: name, Value: value, Path: "/", MaxAge: int(life / time.Second), HttpOnly: true, SameSite: http.SameSiteLaxMode,
		Secure: v.Request.TLS != nil,
	})
}

// said takes the sentence that the last action left.
func (v *visit) said() string {
	c, err := v.Request.Cookie(saidCookie)
	if err != nil {
		return ""
	}
	v.cookie(saidCookie, "", -time.Second)
	said, err := url.QueryUnescape(c.Value)
	if err != nil {
		return ""
	}
	return v.T(said)
}
