package app

import (
	"archive/zip"
	"bytes"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"emberbeat/timeline"
)

// A drawing is taken over by a form that tells of each thing what becomes of it, as one step; the file is read anew once it is another.
func TestDrawingIsTakenOver(t *testing.T) {
	h := withExample(t)
	path := filepath.Join(t.TempDir(), "stage.mvr")
	write := func(fixtures string) {
		f, err := os.Create(path)
		require.NoError(t, err)
		z := zip.NewWriter(f)
		w, err := z.Create("GeneralSceneDescription.xml")
		require.NoError(t, err)
		_, err = w.Write([]byte(`<GeneralSceneDescription><Scene><Layers><Layer name="Pyro"><ChildList>` + fixtures + `</ChildList></Layer></Layers></Scene></GeneralSceneDescription>`))
		require.NoError(t, err)
		require.NoError(t, z.Close())
		require.NoError(t, f.Close())
	}
	write(`<Fixture name="New jet"><CustomIdType>8</CustomIdType></Fixture><Truss name="Mark A"/>`)
	require.True(t, h.a.Use("book-positions"))
	h.step()
	require.True(t, h.a.Use("drawing-take"))
	h.give("file", filepath.Join(t.TempDir(), "none.mvr"))
	require.Contains(t, h.form().why(), "does not exist")
	h.give("file", path, "means", "New*=Cold jet, 6 m", "at", "Mark A=1,2")
	f := h.form()
	require.Empty(t, f.why())
	require.Len(t, f.out.Rows, 2)
	require.Equal(t, []string{"New jet", "fixture", "1.000", "2.000", "0.000"}, f.out.Rows[0][:5])
	require.Equal(t, "left out: it is no device", f.out.Rows[1][8])
	write(`<Fixture name="New jet"/><Fixture name="New jet 2"/><Truss name="Mark A"/>`)
	h.give("at", "Mark A=2,2")
	require.Len(t, h.form().out.Rows, 3)
	was := len(h.a.work.Show.Rig.Placed)
	h.key("Enter")
	h.step()
	require.Nil(t, h.a.dialog)
	require.Len(t, h.a.work.Show.Rig.Placed, was+2)
	require.True(t, h.a.Use("undo"))
	h.step()
	require.Len(t, h.a.work.Show.Rig.Placed, was)
}

// A picture is laid under the stage plan by a form, kept with the show, drawn under the plan with the words that it is one, and taken away again.
func TestPictureUnderTheStagePlan(t *testing.T) {
	h := withExample(t)
	m := image.NewGray(image.Rect(0, 0, 80, 60))
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, m))
	path := filepath.Join(t.TempDir(), "hall.png")
	require.NoError(t, os.WriteFile(path, b.Bytes(), 0o644))
	require.True(t, h.a.Use("book-venues"))
	h.step()
	require.True(t, h.a.Use("venue-picture"))
	h.give("file", path)
	require.Contains(t, h.form().why(), "80 by 60 pixels")
	h.give("at", "20,50=-10,0; 60,50=10,0")
	require.Empty(t, h.form().why())
	require.Equal(t, []string{"upper left", "-20.00", "25.00"}, h.form().out.Rows[0])
	require.NoDirExists(t, filepath.Join(h.a.work.Session.Dir(), "plans"), "nothing is copied while somebody types")
	h.key("Enter")
	h.step()
	require.Nil(t, h.a.dialog)
	v := h.a.work.Show.Venues[0]
	for _, x := range h.a.work.Show.Venues {
		if x.Picture.File != "" {
			v = x
		}
	}
	require.FileExists(t, filepath.Join(h.a.work.Session.Dir(), filepath.FromSlash(v.Picture.File)))
	u := h.a.UnderPlan(v)
	require.Empty(t, u.Missing)
	require.Same(t, u, h.a.UnderPlan(v))
	require.True(t, h.a.Use("venue-plan"))
	h.step()
	require.True(t, h.seenPart(timeline.PictureCaution))
	require.NoError(t, os.Remove(filepath.Join(h.a.work.Session.Dir(), filepath.FromSlash(v.Picture.File))))
	require.True(t, h.a.Use("undo"))
	h.step()
	require.False(t, h.seenPart(timeline.PictureCaution))
}
