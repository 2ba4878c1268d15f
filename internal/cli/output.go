package cli

import "io"

// output passes on what is written, and remembers the first failure, so that an answer that was
// lost is not taken for one that was given.
type output struct {
	io.Writer
	err error
}

func (o *output) Write(p []byte) (int, error) {
	n, err := o.Writer.Write(p)
	if o.err == nil {
		o.err = err
	}
	return n, err
}
