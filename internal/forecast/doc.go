// Package forecast says when a build will be done, and how sure that is.
//
// The order of a plan is kept and lived through many times, each time with other
// luck: how long jobs take and when parts come is drawn from low, likely and high
// values. Run gives the finishes of all these lives, and what moves them most;
// Classic is the textbook's short cut beside it; Learn finds in finished work how
// long things take a builder, beside what he thought they would.
//
// It works on plain values and knows neither the build nor the van: what reaching
// costs comes in as fixed minutes (Job.Extra).
package forecast
