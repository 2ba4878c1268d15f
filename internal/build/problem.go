package build

// Rev counts the changes of a build's file, undoing and redoing among them. Equal revs
// mean equal builds.
type Rev uint64

// Problem is a thing that is wrong with the plan, the record or the file.
type Problem struct {
	Kind string `json:"kind"`
	Ref  string `json:"ref"`
	Text string `json:"text"`
	Hint string `json:"hint"`
}
