package timeline

import "emberbeat/timeline/field"

// Role is what a person does on a night.
type Role string

// The roles.
const (
	Operator  Role = "operator"
	Assistant Role = "assistant"
	Spotter   Role = "spotter"
	Authority Role = "authority"
)

// Person is somebody who works nights, with what a permit asks to know. Nights
// name those who work them.
type Person struct {
	Base
	Name        string
	Role        Role
	Licence     string // its number
	LicenceKind string
	LicenceBy   string // who gave it
	Expires     string // yyyy-mm-dd, the licence's last day; "" = not given
	Age         int    // years; 0 = not given
	Experience  string
	Note        string
}

func (p *Person) defaults() { p.Role = Operator }

func init() {
	type P = Person
	register("person", "persons", "somebody who works nights: operator, assistant, spotter, authority", showPart,
		func(s *Show, _ ID) []*P { return s.Persons },
		func(d *Draft, _ ID) *[]*P { return &d.show.Persons },
		field.Text("name", "the person's name", func(p *P) *string { return &p.Name }),
		field.Choice("role", "what the person does", func(p *P) *Role { return &p.Role }, []Role{Operator, Assistant, Spotter, Authority}),
		field.Text("licence", "its number", func(p *P) *string { return &p.Licence }),
		field.Text("licence-kind", "what it allows", func(p *P) *string { return &p.LicenceKind }),
		field.Text("licence-by", "who gave it", func(p *P) *string { return &p.LicenceBy }),
		field.Parsed("expires", "yyyy-mm-dd, the licence's last day; empty = not given", func(p *P) *string { return &p.Expires }, func(t string) string { return t }, parseDate),
		field.Whole("age", "years; 0 = not given", 0, 120, func(p *P) *int { return &p.Age }),
		field.Text("experience", "what a permit asks for", func(p *P) *string { return &p.Experience }),
		field.Text("note", "", func(p *P) *string { return &p.Note }),
	)
}

// Person finds a person by id, or nil.
func (s *Show) Person(id ID) *Person { return findRecord(s.Persons, id) }

// Crew gives the persons who work the plan's night, in the night's order; those
// the show has lost are left out.
func (p *Plan) Crew() []*Person {
	var crew []*Person
	if p.Night != nil {
		for _, id := range p.Night.Crew {
			if person := p.Show.Person(id); person != nil {
				crew = append(crew, person)
			}
		}
	}
	return crew
}
