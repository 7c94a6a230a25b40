package intake

import (
	"context"
	"encoding/gob"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"
	"time"

	"runnel/geo/gdal"
)

// flag is the one argument of a child. It looks like a flag, so that a program
// that does not call Serve refuses it.
const flag = "--read-one-file"

// Serve answers its parent and ends the process where this is a child; else it
// does nothing. It is called before anything else is done.
func Serve() {
	if len(os.Args) == 2 && os.Args[1] == flag {
		os.Exit(serve(request.read))
	}
}

// serve answers one request by read, and returns the exit status.
func serve(read func(request, context.Context) (answer, error)) int {
	signal.Ignore(os.Interrupt) // the terminal sends it to both, and the parent says what it means
	var q request
	if err := gob.NewDecoder(os.Stdin).Decode(&q); err != nil {
		return 1
	}
	go func() {
		io.Copy(io.Discard, os.Stdin) // until the parent ends
		os.Exit(1)
	}()
	if err := confine(q.Limits); err != nil {
		return 1
	}
	debug.SetMemoryLimit(q.Limits.Memory / 2) // the other half is for the C libraries
	a, err := read(q, context.Background())
	if err != nil {
		a = answer{Fault: err.Error(), NoSystem: errors.Is(err, gdal.ErrNoSystem), NoPlace: errors.Is(err, gdal.ErrNoPlace),
			NoOtherWay: errors.Is(err, gdal.ErrNoOtherWay)}
	}
	if err := a.writeTo(os.Stdout); err != nil {
		return 1
	}
	return 0
}

// ask has a child read a file.
func ask(parent context.Context, q request) (answer, error) {
	name := filepath.Base(q.Path)
	self, err := os.Executable()
	if err != nil {
		return answer{}, fmt.Errorf("%s: Runnel does not find itself to read it (%w); start Runnel again", name, err)
	}
	ctx, stop := context.WithTimeout(parent, q.Limits.Wait)
	defer stop()
	child := exec.CommandContext(ctx, self, flag)
	child.WaitDelay = time.Second
	said := &opening{}
	child.Stderr = said
	a, err := converse(child, q)
	switch {
	case parent.Err() != nil:
		return a, fmt.Errorf("%s: %w", name, parent.Err())
	case child.Process == nil:
		return a, fmt.Errorf("%s: Runnel cannot start itself to read it (%w); start Runnel again", name, err)
	case err != nil:
		return a, fmt.Errorf("%s: %w", name, verdict(child.ProcessState, q.Limits, string(said.kept), ctx.Err()))
	case a.NoSystem:
		return a, told{a.Fault, gdal.ErrNoSystem}
	case a.NoPlace:
		return a, told{a.Fault, gdal.ErrNoPlace}
	case a.NoOtherWay:
		return a, told{a.Fault, gdal.ErrNoOtherWay}
	case a.Fault != "":
		return a, errors.New(a.Fault)
	}
	return a, nil
}

// told is an error that can be asked for, as a child told of it.
type told struct {
	fault string
	is    error
}

func (e told) Error() string        { return e.fault }
func (e told) Is(target error) bool { return target == e.is }

// converse starts the child, asks, and hears its answer to the end.
func converse(child *exec.Cmd, q request) (a answer, err error) {
	in, err := child.StdinPipe()
	if err != nil {
		return a, err
	}
	out, err := child.StdoutPipe()
	if err != nil {
		return a, err
	}
	if err := child.Start(); err != nil {
		return a, err
	}
	// A child that is gone breaks the pipe; what it answered says so too.
	_ = gob.NewEncoder(in).Encode(q)
	a, err = readAnswer(out)
	in.Close() // a child that still has something to say ends by this
	out.Close()
	return a, errors.Join(err, child.Wait())
}

// verdict says why a child ended without an answer, from how it ended, what it
// said and whether its time was over.
func verdict(end *os.ProcessState, l Limits, said string, late error) error {
	const then = "and the reader was stopped; nothing here is lost, cut the file to the site or get it again from where it came"
	memory := func(sign string) bool { return strings.Contains(said, sign) }
	killed := end.String() == "signal: killed"
	switch {
	case late != nil:
		return fmt.Errorf("reading it takes more than %v, %s", l.Wait, then)
	case slices.ContainsFunc(signsOfMemory, memory):
		return fmt.Errorf("reading it takes more than %.1f GB of memory, %s", float64(l.Memory)/1e9, then)
	case killed && end.UserTime()+end.SystemTime() > l.Processor*9/10: // two clocks, and the kernel's is the coarser
		return fmt.Errorf("reading it takes more than %v of computing, %s", l.Processor, then)
	case killed: // by the system, which does so when it is short of memory
		return fmt.Errorf("reading it takes more memory than this computer has left, %s", then)
	}
	return errors.New("reading it broke the reader off, so it is damaged or made to do harm; nothing here is lost, get it again from where it came")
}

// signsOfMemory are what the runtimes of Go and C++ say when they get no more.
var signsOfMemory = []string{"out of memory", "address space", "cannot allocate memory", "bad_alloc", "pthread_create failed", "failed to create new OS thread"}

// opening keeps the first of what is written to it, and no more.
type opening struct{ kept []byte }

func (o *opening) Write(p []byte) (int, error) {
	o.kept = append(o.kept, p[:min(len(p), mostSaid-len(o.kept))]...)
	return len(p), nil
}

// mostSaid is how much of what a child says is kept [bytes].
const mostSaid = 1 << 16
