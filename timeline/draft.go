package timeline

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"emberbeat/timeline/field"
)

// Ref names one record of a show.
type Ref struct {
	Kind string
	Song ID // for kinds that live in a song
	ID   ID
}

// String writes `article:co2-jet` or `cue:ember/c81k`.
func (r Ref) String() string {
	if r.Song != "" {
		return fmt.Sprintf("%s:%s/%s", r.Kind, r.Song, r.ID)
	}
	return fmt.Sprintf("%s:%s", r.Kind, r.ID)
}

// ParseRef reads what Ref.String writes. Whether there is such a record it does
// not say.
func ParseRef(text string) Ref {
	kind, id, _ := strings.Cut(text, ":")
	if song, in, ok := strings.Cut(id, "/"); ok {
		return Ref{Kind: kind, Song: ID(song), ID: ID(in)}
	}
	return Ref{Kind: kind, ID: ID(id)}
}

// Edit is one change of a show. It works on a draft and says in its error what
// would be valid; a show of which one edit fails stays as it was.
type Edit func(*Draft) error

// Edit makes a new show from this one by applying edits in order. After them
// every record they touched is checked: its id, its name on disk, and that the
// records it newly names exist; a record that was removed must not be named by
// any other. On an error the result is nil and nothing has happened.
func (s *Show) Edit(edits ...Edit) (*Show, error) {
	d := NewDraft(s)
	for _, e := range edits {
		if err := e(d); err != nil {
			return nil, err
		}
	}
	return d.Done()
}

// Draft is a show while it is being changed: it shares with its base all that
// is not touched, and is given up once Done or Show has handed out the result.
type Draft struct {
	base  *Show
	show  *Show
	songs map[ID]*Song // songs cloned for this draft
	put   []Ref        // records put, for the checks of Done
	gone  []Ref        // records removed
}

// NewDraft starts from a show.
func NewDraft(s *Show) *Draft {
	c := *s
	return &Draft{base: s, show: &c, songs: map[ID]*Song{}}
}

// Show gives the draft as it stands.
func (d *Draft) Show() *Show { return d.show }

// Loaded gives a draft that is filled as a show, without the checks of Done: a show
// with lost references must still open. The draft is given up.
func (d *Draft) Loaded() *Show {
	d.show.keepLent()
	return d.show
}

// Put stores a record. For a kind that lives in a song, the song must exist.
// The record must not be changed afterwards.
func (d *Draft) Put(song ID, recs ...Record) {
	for len(recs) > 0 {
		k, n := kindOfRecord(recs[0]), 1
		for n < len(recs) && kindOfRecord(recs[n]) == k {
			n++
		}
		if !k.InSong {
			k.put(d, "", recs[:n])
		} else {
			k.put(d, song, recs[:n])
		}
		for _, r := range recs[:n] {
			d.put = append(d.put, k.ref(song, r.RecordID()))
		}
		recs = recs[n:]
	}
}

func (k *Kind) ref(song, id ID) Ref {
	if !k.InSong {
		song = ""
	}
	return Ref{k.Name, song, id}
}

// KindOfRecord gives the kind of a record.
func KindOfRecord(r Record) *Kind { return kindOfRecord(r) }

func kindOfRecord(r Record) *Kind {
	switch r.(type) {
	case *Cue:
		return kindTable["cue"]
	case *Lane:
		return kindTable["lane"]
	case *Aside:
		return kindTable["aside"]
	case *Note:
		return kindTable["note"]
	case *Phrase:
		return kindTable["phrase"]
	case *Section:
		return kindTable["section"]
	case *Marker:
		return kindTable["marker"]
	case *SongHead:
		return kindTable["song"]
	case *Head:
		return kindTable["show"]
	case *Article:
		return kindTable["article"]
	case *DeviceType:
		return kindTable["devicetype"]
	case *BankType:
		return kindTable["banktype"]
	case *StagePosition:
		return kindTable["position"]
	case *Placed:
		return kindTable["placed"]
	case *Group:
		return kindTable["group"]
	case *Bank:
		return kindTable["bank"]
	case *Device:
		return kindTable["device"]
	case *Wire:
		return kindTable["wire"]
	case *Circuit:
		return kindTable["circuit"]
	case *Supply:
		return kindTable["supply"]
	case *Set:
		return kindTable["set"]
	case *HandCue:
		return kindTable["handcue"]
	case *Person:
		return kindTable["person"]
	case *Venue:
		return kindTable["venue"]
	case *Night:
		return kindTable["night"]
	case *Setting:
		return kindTable["setting"]
	case *RuleSet:
		return kindTable["ruleset"]
	}
	panic(fmt.Sprintf("timeline: %T is no record of a show", r))
}

// Remove takes a record out.
func (d *Draft) Remove(r Ref) error {
	k := KindOf(r.Kind)
	if k == nil || k.Find(d.show, r.Song, r.ID) == nil {
		return d.show.noRecord(r)
	}
	if k.Name == "show" {
		return errors.New("the show's own record cannot be removed")
	}
	k.remove(d, r.Song, r.ID)
	d.gone = append(d.gone, r)
	return nil
}

// Set writes one field of a record.
func (d *Draft) Set(r Ref, field string, v Value) error {
	k := KindOf(r.Kind)
	if k == nil {
		return fmt.Errorf("%q is no kind of record; kinds: %s", r.Kind, strings.Join(kindOrder, ", "))
	}
	rec := k.Find(d.show, r.Song, r.ID)
	if rec == nil {
		return d.show.noRecord(r)
	}
	f := k.Field(field)
	if f == nil {
		return &ValueError{Kind: k.Name, Field: field, Value: v.String(), Want: "is no field of this kind; fields: " + strings.Join(k.FieldNames(), ", ")}
	}
	c := k.Clone(rec)
	if err := f.Set(c, v); err != nil {
		if ve := (*ValueError)(nil); errors.As(err, &ve) {
			ve.Kind = k.Name
		}
		return err
	}
	d.Put(r.Song, c)
	return nil
}

// Done checks what was touched and gives the new show (see Show.Edit).
func (d *Draft) Done() (*Show, error) {
	d.keepLaid()
	for _, r := range d.put {
		if err := d.checkPut(r); err != nil {
			return nil, err
		}
	}
	if err := d.checkLent(); err != nil {
		return nil, err
	}
	for _, r := range d.gone {
		if KindOf(r.Kind).Find(d.show, r.Song, r.ID) != nil || d.lends([]string{r.Kind}, r.Song, r.ID) {
			continue // removed and put again, or another song's stands for it
		}
		if users := d.show.Users(r); len(users) > 0 {
			return nil, fmt.Errorf("%s is still used by %s; change or remove that first", d.base.NamedRef(r), d.namedUsers(users))
		}
	}
	d.keepPlacedOn()
	d.keepPlayed()
	d.show.keepLent()
	return d.show, nil
}

// namedUsers names records that use what is taken away: as they were called with
// it, which some are called after.
func (d *Draft) namedUsers(users []Ref) string {
	was, is := d.base.Names(), d.show.Names()
	return someOf(users, func(r Ref) string {
		if k := KindOf(r.Kind); k.Find(d.base, r.Song, r.ID) != nil {
			return was.NamedRef(r)
		}
		return is.NamedRef(r)
	})
}

func (d *Draft) checkPut(r Ref) error {
	k := KindOf(r.Kind)
	rec := k.Find(d.show, r.Song, r.ID)
	if rec == nil {
		if k.InSong && d.show.Song(r.Song) == nil && !slices.Contains(d.gone, Ref{Kind: "song", ID: r.Song}) {
			return fmt.Errorf("%s: the show has no song %q", r, r.Song)
		}
		return nil // removed again
	}
	if !r.ID.Valid() {
		return &ValueError{Kind: k.Name, Field: "id", Value: string(r.ID), Want: "is no id; ids have up to 40 characters of a-z, 0-9 and -"}
	}
	before := k.Find(d.base, r.Song, r.ID)
	for i := range k.Fields {
		f := &k.Fields[i]
		v := f.Get(rec)
		if before != nil && f.Get(before).Equal(v) {
			continue // what was lost or odd before does not block other edits
		}
		if err := checkText(k, f, v); err != nil {
			return err
		}
		if f.Ref == nil {
			continue
		}
		for _, id := range refIDs(f, v) {
			if !d.exists(f.Ref, r.Song, id) && !d.lends(f.Ref, r.Song, id) {
				return &ValueError{Kind: k.Name, Field: f.Name, Value: string(id), Want: "names no " + strings.Join(f.Ref, " or ") + " of this show"}
			}
		}
	}
	if err := d.checkDay(r); err != nil {
		return err
	}
	if err := d.checkSlots(rec, before); err != nil {
		return err
	}
	if err := d.checkBeats(r, rec, before); err != nil {
		return err
	}
	return d.checkSlug(k, rec)
}

// checkText refuses text that no file could keep or that shows otherwise than it
// reads. Every way into a show ends here, whatever made the record.
func checkText(k *Kind, f *Field, v Value) error {
	if err := field.Plain(v.Text); err != nil {
		return &ValueError{Kind: k.Name, Field: f.Name, Value: v.Text, Want: err.Error()}
	}
	for i, item := range v.Items {
		if err := field.Plain(item); err != nil {
			return &ValueError{Kind: k.Name, Field: f.Name, Value: item, Want: fmt.Sprintf("item %d %v", i+1, err)}
		}
	}
	return nil
}

// refIDs gives the ids a reference field holds; for list items with a grammar
// of their own that is the head word.
func refIDs(f *Field, v Value) []ID {
	if f.Type != ListField {
		if v.Text == "" {
			return nil
		}
		return []ID{ID(v.Text)}
	}
	var ids []ID
	for _, item := range v.Items {
		head, _, _ := strings.Cut(item, " ")
		ids = append(ids, ID(head))
	}
	return ids
}

func (d *Draft) exists(kinds []string, song, id ID) bool {
	for _, name := range kinds {
		if KindOf(name).Find(d.show, song, id) != nil {
			return true
		}
	}
	return len(kinds) == 0
}

// checkSlug refuses two records of a kind that would be stored under one name.
func (d *Draft) checkSlug(k *Kind, rec Record) error {
	f := k.Field("slug")
	if f == nil {
		return nil
	}
	slug := f.Get(rec).Text
	if slug == "" {
		return &ValueError{Kind: k.Name, Field: "slug", Value: slug, Want: "is empty; its folder or file needs a name of a-z, 0-9 and -"}
	}
	for _, other := range k.List(d.show, "") {
		if other.RecordID() != rec.RecordID() && f.Get(other).Text == slug {
			return &ValueError{Kind: k.Name, Field: "slug", Value: slug, Want: fmt.Sprintf("is taken by %s; choose another", d.show.NamedRef(Ref{Kind: k.Name, ID: other.RecordID()}))}
		}
	}
	return nil
}

// Users lists the records that name the given one.
func (s *Show) Users(r Ref) []Ref {
	var users []Ref
	for _, k := range Kinds() {
		for i := range k.Fields {
			f := &k.Fields[i]
			if slices.Contains(f.Ref, r.Kind) {
				users = s.usersBy(users, k, f, r)
			}
		}
	}
	return users
}

func (s *Show) usersBy(users []Ref, k *Kind, f *Field, r Ref) []Ref {
	songs := []ID{""}
	if k.InSong {
		songs = nil
		for _, g := range s.Songs {
			if r.Song == "" || r.Song == g.ID || s.borrows(g, r) {
				songs = append(songs, g.ID)
			}
		}
	}
	for _, song := range songs {
		for _, rec := range k.List(s, song) {
			if slices.Contains(refIDs(f, f.Get(rec)), r.ID) {
				users = append(users, k.ref(song, rec.RecordID()))
			}
		}
	}
	return users
}

func (d *Draft) stock() *Stock {
	if d.show.Stock == d.base.Stock {
		c := *d.base.Stock
		d.show.Stock = &c
	}
	return d.show.Stock
}

func (d *Draft) rig() *Rig {
	if d.show.Rig == d.base.Rig {
		c := *d.base.Rig
		d.show.Rig = &c
	}
	return d.show.Rig
}

// song gives the draft's own copy of a song, or nil.
func (d *Draft) song(id ID) *Song {
	if g := d.songs[id]; g != nil && d.show.Song(id) == g {
		return g
	}
	g := d.show.Song(id)
	if g == nil {
		return nil
	}
	c := *g
	d.addSong(&c)
	return &c
}

func (d *Draft) addSong(g *Song) {
	d.songs[g.ID] = g
	d.show.Songs = merge(d.show.Songs, []Record{g})
}
