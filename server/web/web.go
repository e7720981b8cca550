// Package web holds what the service hands out as it is: templates, style sheet, fonts, scripts and catalogues of words. All
// of it is part of the program; nothing is fetched from anywhere.
package web

import (
	"embed"
	"io/fs"
)

//go:embed static templates locales icons
var files embed.FS

// Templates returns the page templates: layout/, parts/ and pages/.
func Templates() fs.FS { return sub("templates") }

// Icons returns the small drawings, one SVG file each.
func Icons() fs.FS { return sub("icons") }

// Locales returns the catalogues of words, one JSON file a language; see README.md there.
func Locales() fs.FS { return sub("locales") }

func sub(dir string) fs.FS {
	f, err := fs.Sub(files, dir)
	if err != nil {
		panic(err) // only if dir were no valid path: a slip in this file
	}
	return f
}
