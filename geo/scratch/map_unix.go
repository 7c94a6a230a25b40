//go:build linux || darwin

package scratch

import (
	"os"

	"golang.org/x/sys/unix"
)

// here tells whether there are Spaces on this system.
const here = true

func mapFile(f *os.File, n int64) ([]byte, error) {
	return unix.Mmap(int(f.Fd()), 0, int(n), unix.PROT_READ|unix.PROT_WRITE, unix.MAP_SHARED)
}

// letGo drops pages of a shared file, which stay in the file. That it fails
// costs memory and nothing else.
func letGo(bytes []byte) { _ = unix.Madvise(bytes, unix.MADV_DONTNEED) }

// unmap fails only for what is not mapped.
func unmap(bytes []byte) { _ = unix.Munmap(bytes) }

// hasRoom makes a file n bytes long where its disk has room for them.
func hasRoom(f *os.File, n int64) error {
	var disk unix.Statfs_t
	if err := unix.Fstatfs(int(f.Fd()), &disk); err != nil {
		return err
	}
	if uint64(n) > disk.Bavail*uint64(disk.Bsize) {
		return unix.ENOSPC
	}
	return f.Truncate(n)
}
