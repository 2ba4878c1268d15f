package cli

import (
	"context"
	"errors"

	"example.com/vanlog/internal/app"
)

// welcome asks a person who has no build how to begin, and shows the screens of what came of
// it. Why is the error that said that there is none.
func (e *env) welcome(ctx context.Context, why error) error {
	says := ""
	if none := (*noBuildError)(nil); !errors.As(why, &none) {
		says = why.Error()
	}
	var a *app.App
	begun, err := e.Welcome(ctx, says, func(b Beginning) (err error) {
		a, err = e.begin(b)
		return err
	})
	if err != nil || !begun {
		return err
	}
	return e.Screens(ctx, a)
}

// begin makes or opens a build.
func (e *env) begin(b Beginning) (*app.App, error) {
	if b.Demo {
		a, _, err := (&demoVerb{env: e}).write(demoFile)
		return a, err
	}
	if b.Build == nil {
		s, err := e.Open(b.Path)
		if err != nil {
			return nil, err
		}
		return e.on(s), nil
	}
	s, err := e.Create(b.Path, *b.Build, b.What, e.clock())
	if err != nil {
		return nil, err
	}
	return e.on(s), nil
}
