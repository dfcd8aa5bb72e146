package render

// Scale is the number of device pixels to a logical pixel, in hundredths: 100 is one to one, 150 one and a half.
// It is the display's own factor times the user's interface factor.
type Scale int

// Unit is the scale at which a logical pixel is a device pixel.
const Unit Scale = 100

// Px gives the device pixels nearest to n logical pixels. What has a size keeps one: anything but 0 gives at least one pixel.
func (s Scale) Px(n int) int {
	if n < 0 {
		return -s.Px(-n)
	}
	px := (n*int(s) + 50) / 100
	if px == 0 && n > 0 {
		return 1
	}
	return px
}

// Pxf gives n logical pixels in device pixels without rounding, for the corners of polygons.
func (s Scale) Pxf(n float32) float32 { return n * float32(s) / 100 }
