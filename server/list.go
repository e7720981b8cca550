package server

import (
	"net/url"
	"strconv"
	"strings"

	"blackbath/bath/input"
	"blackbath/server/store"
	"blackbath/server/view"
)

// perPage is how many rows a list shows at once.
const perPage = 50

// A listing is how a visitor wants a list: which words it must hold, in which order, which page of it. It is all in the
// address, "?q=bank&sort=-received&page=2", so that it can be kept and sent.
type listing struct {
	visit *visit
	q     string
	sort  string
	desc  bool
	page  int
}

// listing reads the wanted list from the address.
func (v *visit) listing() listing {
	l := listing{visit: v, q: strings.TrimSpace(v.Query("q")), page: 1}
	l.sort, l.desc = strings.CutPrefix(v.Query("sort"), "-")
	if n, err := strconv.Atoi(v.Query("page")); err == nil && n > 1 && n < 1_000_000 {
		l.page = n
	}
	return l
}

// store is what the store is asked for.
func (l listing) store() store.Page {
	return store.Page{Sort: l.sort, Desc: l.desc, Limit: perPage, Offset: (l.page - 1) * perPage}
}

// all is the same without an end, for a file.
func (l listing) all() store.Page { return store.Page{Sort: l.sort, Desc: l.desc} }

// href is the same list with one thing changed.
func (l listing) href(path, sort string, page int) string {
	q := url.Values{}
	for name, value := range l.visit.Request.URL.Query() {
		q[name] = value
	}
	set := func(name, value string) {
		if value == "" {
			q.Del(name)
		} else {
			q.Set(name, value)
		}
	}
	set("sort", sort)
	set("page", "")
	if page > 1 {
		set("page", strconv.Itoa(page))
	}
	if len(q) == 0 {
		return path
	}
	return path + "?" + q.Encode()
}

func (l listing) order() string {
	if l.desc {
		return "-" + l.sort
	}
	return l.sort
}

// column is a heading that sorts by key; pressed again it turns the order round. An empty key does not sort.
func (l listing) column(label input.Text, key string, figure bool) view.Column {
	c := view.Column{Label: l.visit.text(label), Figure: figure}
	if key == "" {
		return c
	}
	sort := key
	if l.sort == key {
		c.Sorted = "ascending"
		if l.desc {
			c.Sorted = "descending"
		} else {
			sort = "-" + key
		}
	}
	c.Href = l.href(l.visit.Request.URL.Path, sort, 1)
	return c
}

// file is the address of the whole list as CSV.
func (l listing) file(path string) string { return l.href(path, l.order(), 1) }

// filter is the field that narrows the list.
func (l listing) filter(label string) view.Filter {
	return view.Filter{Label: label, Typed: l.q, Sort: l.order()}
}

// pager leads through the list; nil when it fits one page.
func (l listing) pager(total int) *view.Pager {
	first := (l.page-1)*perPage + 1
	if total <= perPage && l.page == 1 {
		return nil
	}
	last := min(first+perPage-1, total)
	p := &view.Pager{Say: l.visit.T("%d to %d of %d", min(first, total), last, total)}
	path := l.visit.Request.URL.Path
	if l.page > 1 {
		p.Earlier = l.href(path, l.order(), l.page-1)
	}
	if last < total {
		p.Later = l.href(path, l.order(), l.page+1)
	}
	return p
}
