package server

import (
	"encoding/json"
	"net/http"
	"strings"

	"blackbath/bath"
)

// sheetText sends the sheet for a printer of 80 columns, as it was when the sheet was made.
func (s *Server) sheetText(v *visit) error {
	_, kept, err := s.sheet(v)
	if err != nil {
		return err
	}
	v.Header("Cache-Control", "no-store")
	v.Data(http.StatusOK, "text/plain; charset=utf-8", []byte(kept.Text))
	return nil
}

// sheetRecipe and sheetTank send the sheet's inputs as files, with which the command line works out the same figures.
func (s *Server) sheetRecipe(v *visit) error {
	sheet, _, err := s.sheet(v)
	if err != nil {
		return err
	}
	return v.jsonFile("recipe.json", sheet.Recipe)
}

func (s *Server) sheetTank(v *visit) error {
	sheet, _, err := s.sheet(v)
	if err != nil {
		return err
	}
	return v.jsonFile("tank.json", sheet.Tank)
}

// jsonFile sends a value as a file for people to read and programs to take.
func (v *visit) jsonFile(name string, value any) error {
	var b strings.Builder
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(value); err != nil {
		return err
	}
	v.Header("Content-Disposition", `attachment; filename="`+name+`"`)
	v.Header("Cache-Control", "no-store")
	v.Data(http.StatusOK, "application/json; charset=utf-8", []byte(b.String()))
	return nil
}

// command is how the command line works out the figures of a sheet from its two files.
func command(c bath.Conditions) string {
	line := "blackbath scale --recipe recipe.json --tank tank.json --load-cm3 " + figure(c.Load)
	if c.WaterBoilsAt != nil {
		line += " --water-boils-at-c " + figure(*c.WaterBoilsAt)
	} else {
		line += " --altitude-m " + figure(c.Altitude)
	}
	line += " --water-temp-c " + figure(c.WaterTemp)
	if c.Coldest != nil {
		line += " --coldest-c " + figure(*c.Coldest)
	}
	line += " --step-g " + figure(c.Step)
	if c.Bucket != nil {
		line += " --bucket-l " + figure(*c.Bucket)
	}
	return line
}
