package given_test

import _ "emberbeat/timeline/testtool"
