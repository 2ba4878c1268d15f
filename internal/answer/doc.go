// Package answer puts a person's questions about a build to the engines: what now,
// in which order, which way in, what would be buried, what is wrong.
//
// A View is a build at a planning time, with what the engines need prepared once. Its
// answers are values with the JSON form of the command line; the screens show the
// same values. The package changes nothing and stores nothing.
package answer
