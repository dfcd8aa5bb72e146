package render

import (
	"image/color"
	"math"
)

// This file measures colours for the tests of the themes. Light is linear sRGB, white D65.

// vision is the way a kind of eye sees linear sRGB.
type vision struct {
	name   string
	matrix [3][3]float64
}

// visions are full eyes and the three dichromacies: Machado, Oliveira, Fernandes, "A Physiologically-based Model for Simulation of Color
// Vision Deficiency", IEEE TVCG 15(6), 2009, matrices of severity 1.0, applied in linear light. Figures read in public transcriptions of
// the authors' table, which agree with each other.
var visions = []vision{
	{"normal", [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}},
	{"protan", [3][3]float64{{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}}},
	{"deutan", [3][3]float64{{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}}},
	{"tritan", [3][3]float64{{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}}},
}

// lab is a colour in CIELAB under D65.
type lab struct{ L, a, b float64 }

// see gives what the eye makes of c.
func (v vision) see(c color.RGBA) lab {
	in := [3]float64{linear(c.R), linear(c.G), linear(c.B)}
	var out [3]float64
	for i, row := range v.matrix {
		out[i] = min(max(row[0]*in[0]+row[1]*in[1]+row[2]*in[2], 0), 1)
	}
	return labOf(out)
}

// labOf converts linear sRGB, 0 to 1, by the matrix of IEC 61966-2-1 and CIE 1976.
func labOf(l [3]float64) lab {
	f := func(t float64) float64 {
		if t > 216.0/24389 {
			return math.Cbrt(t)
		}
		return (24389.0/27*t + 16) / 116
	}
	x := f((0.4124564*l[0] + 0.3575761*l[1] + 0.1804375*l[2]) / 0.95047)
	y := f(0.2126729*l[0] + 0.7151522*l[1] + 0.0721750*l[2])
	z := f((0.0193339*l[0] + 0.1191920*l[1] + 0.9503041*l[2]) / 1.08883)
	return lab{116*y - 16, 500 * (x - y), 200 * (y - z)}
}

func rad(deg float64) float64 { return deg * math.Pi / 180 }

// hue gives the angle of (a, b) in degrees, 0 to 360; none for grey gives 0.
func hue(a, b float64) float64 {
	if a == 0 && b == 0 {
		return 0
	}
	h := math.Atan2(b, a) * 180 / math.Pi
	if h < 0 {
		h += 360
	}
	return h
}

// chromaWeight is the root of C^7/(C^7+25^7), which the formula uses twice.
func chromaWeight(c float64) float64 {
	return math.Sqrt(math.Pow(c, 7) / (math.Pow(c, 7) + math.Pow(25, 7)))
}

// hueStep gives the difference h2-h1 the short way round and the mean hue, equations 10 and 14 of Sharma et al.
func hueStep(h1, h2, c1, c2 float64) (diff, mean float64) {
	if c1*c2 == 0 {
		return 0, h1 + h2
	}
	diff, mean = h2-h1, (h1+h2)/2
	if math.Abs(diff) <= 180 {
		return diff, mean
	}
	if h1+h2 < 360 {
		mean += 180
	} else {
		mean -= 180
	}
	if diff > 180 {
		return diff - 360, mean
	}
	return diff + 360, mean
}

// ciede2000 gives the colour difference after Sharma, Wu, Dalal, "The CIEDE2000 Color-Difference Formula: Implementation Notes,
// Supplementary Test Data, and Mathematical Observations", Color Research and Application 30(1), 2005, with all weights 1.
func ciede2000(p, q lab) float64 {
	g := 0.5 * (1 - chromaWeight((math.Hypot(p.a, p.b)+math.Hypot(q.a, q.b))/2))
	pa, qa := p.a*(1+g), q.a*(1+g)
	pc, qc := math.Hypot(pa, p.b), math.Hypot(qa, q.b)
	dh, h := hueStep(hue(pa, p.b), hue(qa, q.b), pc, qc)
	l, c := (p.L+q.L)/2, (pc+qc)/2
	t := 1 - 0.17*math.Cos(rad(h-30)) + 0.24*math.Cos(rad(2*h)) + 0.32*math.Cos(rad(3*h+6)) - 0.20*math.Cos(rad(4*h-63))
	light := (q.L - p.L) / (1 + 0.015*(l-50)*(l-50)/math.Sqrt(20+(l-50)*(l-50)))
	chroma := (qc - pc) / (1 + 0.045*c)
	turn := 2 * math.Sqrt(pc*qc) * math.Sin(rad(dh/2)) / (1 + 0.015*c*t)
	rotate := -math.Sin(rad(60*math.Exp(-math.Pow((h-275)/25, 2)))) * 2 * chromaWeight(c)
	return math.Sqrt(light*light + chroma*chroma + turn*turn + rotate*chroma*turn)
}
