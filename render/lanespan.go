package render

// LaneSpan gives the top and bottom of lane i, counted in device pixels from the top of the first lane, and the height of all lanes.
func (l *SongLayout) LaneSpan(d *SongData, i int) (top, bottom, all int) {
	return i * l.laneHeight, (i + 1) * l.laneHeight, l.lanesHeight(d)
}

// LaneHigh gives the height of a lane in device pixels.
func (l *SongLayout) LaneHigh() int { return l.laneHeight }
