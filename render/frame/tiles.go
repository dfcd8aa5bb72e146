package frame

import (
	"image"

	"emberbeat/render"
	"emberbeat/timeline"
)

// Tile is a song of the running order.
type Tile struct {
	ID     string
	Number string // "" for one that is not played
	Title  string
	Word   string // its state
	Flag   bool   // something is to be looked at: a tile too narrow for its word has a dot
	Length timeline.Time
}

// Tiles is the running order as a row of tiles.
type Tiles struct {
	Area   image.Rectangle
	List   []Tile
	Now    int  // the song in view, -1 for none
	Scroll int  // device pixels by which the row is moved to the left, where it is wider than its area
	Over   int  // tile that is pointed at, -1 for none
	Drop   int  // gap before this tile that a dragged one would go to, -1 for none
	Focus  bool // the row has the focus

	boxes []image.Rectangle // kept to make no garbage
}

// HitTile is the area of a tile; its id is the song's.
const HitTile render.HitKind = "tile"

// Logical measures of tiles. A row whose tiles would all be narrower than leastTile, or of more than manyTiles, shows the song in view alone at
// nowTile, and of the others the number.
const (
	tileGap   = 4
	leastTile = 104
	mostTile  = 280
	nowTile   = 220
	slimTile  = 34
	manyTiles = 12
)

// Place gives where each tile stands at a scale, of a row that is not scrolled, and how wide the row is. The boxes hold until the next call.
func (t *Tiles) Place(scale render.Scale) (boxes []image.Rectangle, width int) {
	n, gap := len(t.List), scale.Px(tileGap)
	room := t.Area.Dx() - gap*(n-1)
	slim := n > manyTiles || n > 0 && room/n < scale.Px(leastTile)
	var all timeline.Time
	for i := range t.List {
		all += t.List[i].Length
	}
	spare := room - n*scale.Px(leastTile)
	t.boxes = t.boxes[:0]
	x := t.Area.Min.X
	for i := range t.List {
		var w int
		switch {
		case slim && i == t.Now:
			w = min(scale.Px(nowTile), t.Area.Dx())
		case slim:
			w = scale.Px(slimTile)
		default:
			share := spare / n
			if all > 0 {
				share = int(float64(spare) * float64(t.List[i].Length) / float64(all))
			}
			w = min(scale.Px(leastTile)+share, scale.Px(mostTile))
		}
		t.boxes = append(t.boxes, image.Rect(x, t.Area.Min.Y, x+w, t.Area.Max.Y))
		x += w + gap
	}
	return t.boxes, max(x-gap-t.Area.Min.X, 0)
}

// Shown gives the nearest scroll to the present one with which the song in view is seen whole.
func (t *Tiles) Shown(scale render.Scale) int {
	boxes, width := t.Place(scale)
	to := t.Scroll
	if t.Now >= 0 && t.Now < len(boxes) {
		b := boxes[t.Now].Sub(t.Area.Min)
		to = max(min(to, b.Min.X), b.Max.X-t.Area.Dx())
	}
	return min(max(to, 0), max(width-t.Area.Dx(), 0))
}

// Draw adds the row to a scene, with an area to be hit for each tile in sight.
func (t *Tiles) Draw(s *render.Scene) {
	boxes, _ := t.Place(s.Scale)
	s.PushClip(t.Area)
	for i, box := range boxes {
		if box = box.Sub(image.Pt(t.Scroll, 0)); box.Overlaps(t.Area) {
			t.tile(s, i, box)
		}
	}
	if t.Drop >= 0 && len(boxes) > 0 {
		t.drop(s, boxes)
	}
	s.PopClip()
}

// drop draws where a dragged tile would go.
func (t *Tiles) drop(s *render.Scene, boxes []image.Rectangle) {
	x := boxes[len(boxes)-1].Max.X
	if t.Drop < len(boxes) {
		x = boxes[t.Drop].Min.X - s.Px(tileGap)
	}
	x = min(max(x-t.Scroll, t.Area.Min.X), t.Area.Max.X-s.Px(tileGap))
	s.Rect(image.Rect(x, t.Area.Min.Y, x+s.Px(tileGap), t.Area.Max.Y), render.InkFocus)
}

func (t *Tiles) tile(s *render.Scene, i int, box image.Rectangle) {
	tile := &t.List[i]
	s.Hit(HitTile, tile.ID, box)
	begun := len(s.Shapes)
	if i == t.Now {
		s.Rect(box, render.InkLane)
		s.Rect(image.Rect(box.Min.X, box.Min.Y, box.Max.X, box.Min.Y+s.Px(3)), render.InkFocus)
		s.Frame(box, s.Px(1), render.InkEdge)
		if t.Focus {
			s.Frame(box, s.Px(2), render.InkFocus)
		}
	} else {
		s.Rect(box, render.InkRaised)
		if i == t.Over {
			s.Frame(box, s.Px(1), render.InkText)
		}
	}
	t.words(s, tile, i == t.Now, box)
	if i != t.Now {
		s.OnRaised(begun)
	}
}

// words sets a tile's number, title and state; what does not fit gives way in the order state, end of the title.
func (t *Tiles) words(s *render.Scene, tile *Tile, now bool, box image.Rectangle) {
	pad := s.Px(8)
	if box.Dx() < s.Px(leastTile) && !now {
		text := tile.Number
		if text == "" {
			text = "–"
		}
		s.TextIn(box, render.Middle, render.TypeSmall, render.InkSecondary, text)
		if tile.Flag {
			d := s.Px(4)
			at := image.Pt(box.Max.X-2*d, box.Min.Y+d)
			s.Rect(image.Rectangle{Min: at, Max: at.Add(image.Pt(d, d))}, render.InkText)
		}
		return
	}
	in := image.Rect(box.Min.X+pad, box.Min.Y, box.Max.X-pad, box.Max.Y)
	if tile.Number != "" {
		w := s.Face(render.TypeSmall).Measure(tile.Number)
		s.TextIn(image.Rect(in.Min.X, in.Min.Y, in.Min.X+w, in.Max.Y), render.Left, render.TypeSmall, render.InkSecondary, tile.Number)
		in.Min.X += w + pad
	}
	typ, ink := render.TypeLabel, render.InkText
	if now {
		typ = render.TypeStrong
	}
	if tile.Number == "" {
		ink = render.InkSecondary
	}
	title, word := s.Face(typ).Measure(tile.Title), s.Face(render.TypeSmall).Measure(tile.Word)
	if tile.Word != "" && title+pad+word <= in.Dx() {
		s.TextIn(in, render.Right, render.TypeSmall, render.InkSecondary, tile.Word)
		in.Max.X -= word + pad
	} else if tile.Flag {
		d := s.Px(4)
		at := image.Pt(in.Max.X-d, box.Min.Y+s.Px(6))
		s.Rect(image.Rectangle{Min: at, Max: at.Add(image.Pt(d, d))}, render.InkText)
		in.Max.X -= 2 * d
	}
	s.TextCut(in, typ, ink, tile.Title)
}

// Played draws how far the song in view is played, part of it from 0 to 1. It goes into what moves.
func (t *Tiles) Played(s *render.Scene, part float64) {
	boxes, _ := t.Place(s.Scale)
	if t.Now < 0 || t.Now >= len(boxes) {
		return
	}
	box := boxes[t.Now].Sub(image.Pt(t.Scroll, 0)).Inset(s.Px(1))
	s.PushClip(t.Area)
	end := box.Min.X + int(min(max(part, 0), 1)*float64(box.Dx()))
	s.Rect(image.Rect(box.Min.X, box.Max.Y-s.Px(2), end, box.Max.Y), render.InkText)
	s.PopClip()
}

// At gives the tile at a point, -1 where there is none.
func (t *Tiles) At(scale render.Scale, p image.Point) int {
	if !p.In(t.Area) {
		return -1
	}
	boxes, _ := t.Place(scale)
	for i, box := range boxes {
		if p.Add(image.Pt(t.Scroll, 0)).In(box) {
			return i
		}
	}
	return -1
}

// Gap gives before which tile one would go that is let go at a column, the number of tiles for behind the last.
func (t *Tiles) Gap(scale render.Scale, x int) int {
	boxes, _ := t.Place(scale)
	for i, box := range boxes {
		if x+t.Scroll < (box.Min.X+box.Max.X)/2 {
			return i
		}
	}
	return len(boxes)
}
