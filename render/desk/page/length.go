package page

import "emberbeat/render/widget"

// Length is how lengths are typed: metres, kept to a millimetre.
var Length = widget.NumberSpec{Units: []widget.Unit{{Name: "m", Num: 1000, Den: 1}, {Name: "cm", Num: 10, Den: 1}, {Name: "mm", Num: 1, Den: 1}, {Name: "ft", Num: 3048, Den: 10}}, Digits: 3,
	Min: -9999_000, Max: 9999_000, Step: 100, Fine: 10, Big: 1000}
