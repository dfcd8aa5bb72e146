package paper

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"image"
	"slices"

	"emberbeat/render"
)

// Digest gives a short hash of all that the sheet prints but the facts named in
// except: two sheets with one digest look alike but for those. Where lines and
// pages break does not count.
func (sh *Sheet) Digest(faces *render.Faces, except ...string) string {
	h := sha256.New()
	enc := json.NewEncoder(h) // into a hash, which takes everything
	facts := slices.DeleteFunc(slices.Clone(sh.Facts), func(f Fact) bool { return slices.Contains(except, f.Label) })
	_ = enc.Encode([]any{sh.Title, sh.Foot, sh.Stamp, facts})
	for i := range sh.Parts {
		p := &sh.Parts[i]
		_ = enc.Encode([]any{p.Heading, p.Notes, p.Figures, p.Entries, p.Columns, p.Rows, artOf(p, faces)})
	}
	return hex.EncodeToString(h.Sum(nil))[:16]
}

// artOf gives what a part's drawing shows, drawn on a square.
func artOf(p *Part, faces *render.Faces) string {
	if p.Art == nil {
		return ""
	}
	s := render.NewScene(faces)
	s.Reset(image.Pt(2000, 2000), pageScale)
	p.Art.Draw(s, s.Bounds())
	return s.Dump()
}
