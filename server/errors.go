package server

import (
	"context"
	"errors"
	"fmt"
	"net/http"

	"blackbath/bath/input"
	"blackbath/server/store"
	"blackbath/server/view"
)

// errRequest is wrapped by what a browser or program sent wrongly.
var errRequest = errors.New("the request cannot be read")

func badRequest(err error) error { return fmt.Errorf("%w: %w", errRequest, err) }

// fail answers with the page for an error. This is the only place where errors become statuses.
func (s *Server) fail(v *visit, err error) {
	var (
		problems input.Problems
		problem  input.Problem
		tooLarge *http.MaxBytesError
		m        view.Message
		status   int
	)
	say := func(code int, title, text string) {
		status = code
		m.Base = v.base(title)
		m.Text = text
	}
	switch {
	case errors.Is(v.Request.Context().Err(), context.Canceled):
		return // the reader went away
	case errors.Is(err, store.ErrNotFound):
		say(http.StatusNotFound, v.T("There is nothing here"), v.T("The address is mistyped, or what stood here belongs to another workshop."))
	case errors.Is(err, store.ErrConflict), errors.Is(err, store.ErrStale):
		say(http.StatusConflict, v.T("Somebody else changed this meanwhile"), v.T("Nothing was saved. Go back, copy what you typed, load the page again and put it in."))
	case errors.Is(err, store.ErrDuplicate):
		say(http.StatusConflict, v.T("There is one like this already"), v.T("Nothing was saved. Go back and give it another name."))
	case errors.Is(err, store.ErrVersionUsed):
		say(http.StatusConflict, v.T("A bath used this version"), v.T("It can't change any more. Make a new version and say what changed and why."))
	case errors.Is(err, store.ErrBusy), errors.Is(err, context.DeadlineExceeded):
		v.Header("Retry-After", "2")
		say(http.StatusServiceUnavailable, v.T("Busy just now"), v.T("Nothing was saved. Wait two seconds and send it again."))
	case errors.As(err, &tooLarge):
		say(http.StatusRequestEntityTooLarge, v.T("That is too much at once"), v.T("At most %d bytes can be sent. Nothing was saved.", tooLarge.Limit))
	case errors.As(err, &problems), errors.As(err, &problem):
		if len(problems) == 0 {
			problems = input.Problems{problem}
		}
		say(http.StatusUnprocessableEntity, v.T("Something must be put right"), v.T("Nothing was saved. Go back; what you typed is still there."))
		for _, p := range problems {
			m.Lines = append(m.Lines, v.T("%s: write %s.", p.Field, p.Allowed))
		}
	case errors.Is(err, store.ErrUnstorable):
		say(http.StatusUnprocessableEntity, v.T("Something must be put right"), v.T("Nothing was saved. A figure or a text there cannot be kept."))
	case errors.Is(err, errRequest):
		say(http.StatusBadRequest, v.T("That could not be read"), v.T("Nothing was saved. Load the page again and send it once more."))
	default:
		s.log.Error("request failed", "method", v.Request.Method, "path", v.Request.URL.Path, "err", err)
		say(http.StatusInternalServerError, v.T("Something went wrong in here"), v.T("It is not your doing. It may be that nothing was saved: look before you send it again."))
	}
	s.message(v, status, m)
}

// message answers with a page that only says something.
func (s *Server) message(v *visit, status int, m view.Message) {
	if m.Next == nil {
		m.Next = &view.Link{Label: v.T("To the first page"), Href: "/"}
	}
	if err := v.page(status, "message", m); err != nil {
		s.log.Error("no page for an error", "err", err)
		s.plainFailure(v.Writer)
	}
}

func (s *Server) notFound(v *visit) error { return store.ErrNotFound }

func (s *Server) wrongMethod(v *visit) error {
	m := view.Message{Base: v.base(v.T("That can't be done here")), Text: v.T("This address is for something else.")}
	s.message(v, http.StatusMethodNotAllowed, m)
	return nil
}

// plainPage is made when the program is built: it is for the case that no page can be made.
const plainPage = `<!doctype html><html lang="en"><meta charset="utf-8"><title>blackbath</title>` +
	`<h1>Something went wrong in here</h1><p>It is not your doing. Load the page again.</p></html>`

func (s *Server) plainFailure(w http.ResponseWriter) {
	writePlain(w, http.StatusInternalServerError, plainPage)
}

// refuseOrigin answers a form that another site sent.
func (s *Server) refuseOrigin(w http.ResponseWriter, _ *http.Request) {
	writePlain(w, http.StatusForbidden, `<!doctype html><html lang="en"><meta charset="utf-8"><title>blackbath</title>`+
		`<h1>This came from another site</h1><p>Nothing was saved. Open the page itself and send it from there.</p></html>`)
}

func writePlain(w http.ResponseWriter, status int, page string) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	w.Header().Del("Content-Length")
	w.WriteHeader(status)
	_, _ = w.Write([]byte(page))
}
