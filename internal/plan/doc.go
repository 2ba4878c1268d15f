// Package plan finds the order of work that ends soonest: jobs with calendars,
// clock lags, cures, releases, shared resources, and lengths that depend on what is
// already fitted. It gives a valid sequence and a bound that no order can beat.
//
// It works on plain values and knows neither the build nor the van: what reaching
// costs is asked through Problem.Reach.
//
// An order is a list of jobs; placing them one after the other, each where it can start
// first, makes a schedule of it (generate.go). Lists are bred (breed.go) and annealed
// (search.go). Beside that the bound is raised: windows of the jobs are narrowed for the whole
// to finish by some time, until there is no room (narrow.go, shave.go, refute.go). Up to ten
// jobs all orders are tried (exact.go); where all is there round the clock branch and bound
// proves more (branch.go). What is given has been checked against the problem alone
// (evaluate.go).
package plan
