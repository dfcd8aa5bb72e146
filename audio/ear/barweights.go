package ear

// barWeights weigh the features of a barring in the order of describe, fitted
// like tactusWeights to the songs whose bars are known. Leaving each
// development song out in turn, bars are right in 27 of 32.
var barWeights = [...]float64{
	0.6715, 2.1570, -0.3342, -1.3008, -0.5546, 2.4912,
	1.0344, -1.0543, 5.1474, 0.7201, -0.9585, 0.5508,
	0.3376, -0.7347, -0.2872, -0.6876, -0.3703, -0.1184,
	-2.3978, -0.2208, 0.5106, 1.1775, 0.5642, 1.3775,
	-0.1046,
}
