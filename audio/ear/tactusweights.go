package ear

// tactusWeights weigh the features of a reading in the order of describe. They
// were fitted by logistic regression (choice among the readings of a song, L2
// penalty 1 on standardised features) to rendered songs of known beat.
var tactusWeights = [...]float64{
	1.8588, -3.0006, -2.7239, -12.7475, -0.7730, -0.4550,
	1.2678, 0.3070, 0.2883, 0.9651, 1.3386, 0.3857,
	-0.3000, -0.1978, -0.7671, -0.9705, 0.3478, -0.0160,
	-0.1065, -0.2514, 0.2253, -0.2711, 0.1568, -0.0560,
	0.0347, -0.1200, 2.5820, 1.1453, -0.7739, 0.3522,
	5.1879, -0.0090,
}
