package ear

// tactusWeights weigh the features of a reading in the order of describe. They
// were fitted by logistic regression (choice among the readings of a song, L2
// penalty 1 on standardised features) to rendered songs of known beat.
var tactusWeights = [...]float64{
	1.7566, -2.8811, -2.6793, -13.0709, -0.7973, -0.6604,
	1.2514, 0.3817, 0.3901, 0.9369, 1.3808, 0.4055,
	-0.3322, -0.2096, -0.7716, -1.0133, 0.3456, 0.0258,
	-0.0790, -0.1989, 0.1556, -0.3039, 0.2146, 0.0046,
	0.1241, -0.0980, 2.5204, 1.0713, -0.8232, 0.9674,
	5.0685, -0.0668,
}
