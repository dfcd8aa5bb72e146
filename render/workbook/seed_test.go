package workbook

import _ "emberbeat/timeline/testtool" // the seed of random walks
