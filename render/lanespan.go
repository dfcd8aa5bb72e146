package render

// LaneSpan gives the top and bottom of lane i, counted in device pixels from the top of the first heading, and the height of all lanes.
func (l *SongLayout) LaneSpan(d *SongData, i int) (top, bottom, all int) {
	for k := range d.Lanes {
		if d.Lanes[k].Place != "" {
			all += l.headHeight
		}
		if k == i {
			top, bottom = all, all+l.laneHeight
		}
		all += l.laneHeight
	}
	return top, bottom, all
}
