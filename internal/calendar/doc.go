// Package calendar answers when something is there to work with.
//
// A Resource has hours in the week, days off, and days with hours of their own.
// Hours is the compiled intersection of the hours of some resources: the minutes
// in which a task that uses all of them works. A Cure is a wait that begins at a
// finish and runs on the clock, or only in some resource's hours.
//
//	cal := calendar.Compile(resources)
//	end, ok := cal.Of("builder", "helper").Finish(start, 90)
//
// The package schedules nothing and knows no tasks.
package calendar
