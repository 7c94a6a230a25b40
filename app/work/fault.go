package work

import (
	"fmt"
	"runtime/debug"
)

// A Fault is a mistake in the program that a job ran into.
type Fault struct {
	// Value is what the job panicked with; Stack is where.
	Value any
	Stack []byte
}

func (f *Fault) Error() string {
	return fmt.Sprintf("the work stopped at a mistake in the program (%v); nothing on the site has changed, save it and try again", f.Value)
}

// Guard runs f and turns a panic into a Fault.
func Guard(f func() error) error {
	_, err := guard(func() (struct{}, error) { return struct{}{}, f() })
	return err
}

func guard[T any](f func() (T, error)) (value T, err error) {
	defer func() {
		if v := recover(); v != nil {
			err = &Fault{Value: v, Stack: debug.Stack()}
		}
	}()
	return f()
}
