package store

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"blackbath/bath"
	"blackbath/bath/unit"
)

func aProof() bath.Proof {
	return bath.Proof{Tank: aTank().Tank, Load: 140, LoadArea: 3.25, Ranges: map[bath.Figure]bath.Range{
		bath.OpenSurfacePerLitre: {Lo: 60, Hi: 80}, bath.HeatUp: {Lo: 20, Hi: 45.5},
	}}
}

func TestRecipes(t *testing.T) {
	eachStore(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		ws := must[int64](t)(s.SaveWorkshop(ctx, "first", aWorkshop()))
		first := aVersion()
		first.Proof = ptr(aProof())
		saved := must[bath.Version](t)(s.SaveNewRecipe(ctx, ws, "r1", first))
		first.ID, first.RecipeID, first.Number, first.Edit = saved.ID, saved.RecipeID, 1, 1
		if diff := cmp.Diff(first, saved); diff != "" {
			t.Errorf("saved (- want, + got):\n%s", diff)
		}
		if diff := cmp.Diff(first, must[bath.Version](t)(s.Version(ctx, ws, first.ID))); diff != "" {
			t.Errorf("read back (- kept, + read):\n%s", diff)
		}

		second := aVersion()
		second.RecipeID, second.Recipe.Name, second.Recipe.Soak, second.MadeBy = first.RecipeID, "Deepest black", nil, ""
		for _, missing := range []func(*bath.Version){
			func(v *bath.Version) { v.Change = "" },
			func(v *bath.Version) { v.Why = " \t" },
		} {
			v := second
			missing(&v)
			_, err := s.SaveVersion(ctx, ws, "v2", v)
			wantErr(t, "without a reason", err, ErrReasonMissing)
		}
		second = must[bath.Version](t)(s.SaveVersion(ctx, ws, "v2", second))
		if second.Number != 2 || second.RecipeID != first.RecipeID {
			t.Errorf("second version is number %d of recipe %d; want 2 of %d", second.Number, second.RecipeID, first.RecipeID)
		}
		want := bath.KeptBook{RecipeBook: bath.RecipeBook{ID: first.RecipeID, Name: "Deepest black", Versions: []bath.Version{first, second}}}
		if diff := cmp.Diff(want, must[bath.KeptBook](t)(s.RecipeBook(ctx, ws, first.RecipeID))); diff != "" {
			t.Errorf("book (- want, + got):\n%s", diff)
		}
		_, err := s.SaveVersion(ctx, ws, "v3", bath.Version{RecipeID: 99, Change: "c", Why: "w"})
		wantErr(t, "a version of no recipe", err, ErrNotFound)
		_, err = s.Version(ctx, ws, 99)
		wantErr(t, "no version", err, ErrNotFound)

		other := aVersion()
		other.Recipe.Name = "Antique grey"
		other = must[bath.Version](t)(s.SaveNewRecipe(ctx, ws, "r2", other))
		lines := func(f RecipeFilter) (names []string) {
			t.Helper()
			got, total, err := s.ListRecipes(ctx, ws, f)
			if err != nil || total != len(got) {
				t.Errorf("total %d, %d lines, %v", total, len(got), err)
			}
			for _, l := range got {
				names = append(names, l.Newest.Recipe.Name)
			}
			return names
		}
		for _, tt := range []struct {
			filter RecipeFilter
			want   []string
		}{
			{RecipeFilter{}, []string{"Antique grey", "Deepest black"}},
			{RecipeFilter{Page: Page{Sort: "versions", Desc: true}}, []string{"Deepest black", "Antique grey"}},
			{RecipeFilter{Text: "DEEPEST mortar"}, []string{"Deepest black"}},
			{RecipeFilter{Text: "deep black ammonium-chloride"}, []string{"Deepest black"}},
			{RecipeFilter{Text: "violet"}, nil},
		} {
			if diff := cmp.Diff(tt.want, lines(tt.filter)); diff != "" {
				t.Errorf("%+v (- want, + got):\n%s", tt.filter, diff)
			}
		}
		if err := s.RetireRecipe(ctx, ws, other.RecipeID); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff([]string{"Deepest black"}, lines(RecipeFilter{})); diff != "" {
			t.Errorf("after retiring one (- want, + got):\n%s", diff)
		}
		if diff := cmp.Diff([]string{"Antique grey", "Deepest black"}, lines(RecipeFilter{IncludeRetired: true})); diff != "" {
			t.Errorf("with the retired one (- want, + got):\n%s", diff)
		}
		if err := s.RestoreRecipe(ctx, ws, other.RecipeID); err != nil {
			t.Fatal(err)
		}
		if got := lines(RecipeFilter{}); len(got) != 2 {
			t.Errorf("after restoring: %v", got)
		}
		wantErr(t, "retire no recipe", s.RetireRecipe(ctx, ws, 99), ErrNotFound)
	})
}

func TestUnusedVersionCanChange(t *testing.T) {
	eachStore(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		f := furnish(t, s, "")
		v := f.version
		v.Recipe.Parts[0].Mass, v.Recipe.Name = 11000, "Blacker"
		if err := s.UpdateVersion(ctx, f.workshop, v); err != nil {
			t.Fatal(err)
		}
		wantErr(t, "with an old edit", s.UpdateVersion(ctx, f.workshop, v), ErrConflict)
		v.Edit = 2
		if diff := cmp.Diff(v, must[bath.Version](t)(s.Version(ctx, f.workshop, v.ID))); diff != "" {
			t.Errorf("changed (- kept, + read):\n%s", diff)
		}
		second := must[bath.Version](t)(s.SaveVersion(ctx, f.workshop, "v2", v))
		second.Why = ""
		wantErr(t, "reason taken away", s.UpdateVersion(ctx, f.workshop, second), ErrReasonMissing)

		_, err := s.SaveBathSheet(ctx, f.workshop, f.sheet("s1"))
		wantErr(t, "a sheet of the recipe as it was before the change", err, ErrStale)
	})
}

func TestUsedVersionIsFixed(t *testing.T) {
	eachStore(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		f := furnish(t, s, "")
		must[int64](t)(s.SaveBathSheet(ctx, f.workshop, f.sheet("s1")))
		want := must[bath.Version](t)(s.Version(ctx, f.workshop, f.version.ID))
		if !want.Used {
			t.Error("a sheet was made, but the version is not marked as used")
		}
		v := want
		v.Recipe.Parts = append([]bath.Part(nil), v.Recipe.Parts...)
		v.Recipe.Parts[2].Mass = unit.Gram(1)
		wantErr(t, "UpdateVersion", s.UpdateVersion(ctx, f.workshop, v), ErrVersionUsed)

		// The schema refuses it too, whoever asks.
		for _, statement := range []string{
			`UPDATE recipe_versions SET recipe_json = '{}'`, `UPDATE recipe_versions SET name = 'x'`,
			`UPDATE recipe_versions SET change = 'x'`, `UPDATE recipe_versions SET why = 'x'`,
			`UPDATE recipe_versions SET number = 7`, `UPDATE recipe_versions SET made_by = 'x'`,
			`UPDATE bath_sheets SET recipe_json = '{}'`, `UPDATE bath_sheet_lots SET part = part + 10`,
		} {
			wantErr(t, statement, wrap("", s.write.Exec(statement).Error), ErrVersionUsed)
		}
		wantErr(t, "DELETE", wrap("", s.write.Exec(`DELETE FROM recipe_versions`).Error), ErrNotFound) // the sheet points to it

		// Its proof may come once.
		if err := s.SaveProof(ctx, f.workshop, v.ID, want.Edit, aProof()); err != nil {
			t.Fatal(err)
		}
		other := aProof()
		other.Load = 1
		wantErr(t, "a second proof", s.SaveProof(ctx, f.workshop, v.ID, want.Edit+1, other), ErrVersionUsed)
		wantErr(t, "proof taken away", wrap("", s.write.Exec(`UPDATE recipe_versions SET proof_json = NULL`).Error), ErrVersionUsed)
		want.Proof, want.Edit = ptr(aProof()), want.Edit+1
		if diff := cmp.Diff(want, must[bath.Version](t)(s.Version(ctx, f.workshop, v.ID))); diff != "" {
			t.Errorf("the version changed (- before, + after):\n%s", diff)
		}
	})
}

func TestProofOfUnusedVersion(t *testing.T) {
	eachStore(t, func(t *testing.T, s *Store) {
		ctx := t.Context()
		f := furnish(t, s, "")
		if err := s.SaveProof(ctx, f.workshop, f.version.ID, 1, aProof()); err != nil {
			t.Fatal(err)
		}
		wantErr(t, "with an old edit", s.SaveProof(ctx, f.workshop, f.version.ID, 1, aProof()), ErrConflict)
		if err := s.SaveProof(ctx, f.workshop, f.version.ID, 2, bath.Proof{Tank: aTank().Tank}); err != nil {
			t.Errorf("an unused version's proof can be put right: %v", err)
		}
		wantErr(t, "of no version", s.SaveProof(ctx, f.workshop, 99, 1, aProof()), ErrNotFound)
	})
}
