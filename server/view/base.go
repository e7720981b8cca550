// Package view has one struct per page, embedding [Base], and the ways in which figures are written. It prints; it decides
// nothing.
package view

import (
	"blackbath/server/form"
)

// A Base is what every page has: the frame around it and the way figures are written.
type Base struct {
	Format

	Title    string // translated; the page's h1 and, with the program's name, its title
	Lead     string // one sentence under the title; may be empty
	Back     *Link  // the page above this one; nil: none
	Language string // BCP 47
	Light    string // "" (daylight), "outdoor" or "night"
	Workshop string // its name; empty before the first run
	Invented bool   // the demo workshop: every page says so
	Places   []PlaceGroup
	Ledge    *Ledge   // the next step; nil: none
	Said     string   // what the last action did, shown once; may be empty
	Scripts  []string // own scripts of the page, as "js/scale.js"; the page must work without them
	Version  string   // of the program
}

// A Link is a word and where it leads.
type Link struct{ Label, Href string }

// A PlaceGroup is one heading of the menu with its places.
type PlaceGroup struct {
	Heading string
	Places  []Place
}

// A Place is one entry of the menu.
type Place struct {
	Label, Href, Icon string
	Here              bool
}

// A Ledge is the next step, at the foot of the page: one sentence, one main action and at most one other.
type Ledge struct {
	Strong, Say string // the sentence; Strong begins it, in bold
	Main        *Action
	Other       *Action
}

// An Action is a button: a link, or the sending of the form with that id.
type Action struct {
	Label string
	Href  string // a link
	Form  string // or the id of a form on the page
	Name  string // name and value that a form sends with this button; may be empty
	Value string
}

// A Message is a page that only says something: not found, busy.
type Message struct {
	Base
	Text  string
	Lines []string // particulars; may be empty
	Next  *Link
}

// A Caution is one Danger, Warning or Note.
type Caution struct {
	Severity string // danger, warning or note
	Word     string // the signal word, translated
	Text     string
	Because  string // what it hangs on; may be empty
	ReadBy   string // who has read a Danger; empty: nobody
}

// A Fact is a name and its value.
type Fact struct {
	Name  string
	Value any // a string, a Quantity or template.HTML
}

// An Empty is what a page shows where there is nothing yet.
type Empty struct {
	Icon   string
	Strong string
	Say    string
	Do     *Link // nil: nothing to do here
}

// A Formed page has a form.
type Formed struct {
	Base
	Form *form.Form
}
