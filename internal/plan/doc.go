// Package plan finds the order of work that ends soonest: jobs with calendars,
// clock lags, cures, releases, shared resources, and lengths that depend on what is
// already fitted. It gives a valid sequence and a bound that no order can beat.
//
// It works on plain values and knows neither the build nor the van: what reaching
// costs is asked through Problem.Reach.
package plan
