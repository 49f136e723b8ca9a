package main

import (
	"fmt"
	"runtime/debug"
)

// versionCmd prints the version.
type versionCmd struct{}

// Help shows an example.
func (versionCmd) Help() string { return "Example:\n\n    fullyon version" }

// Run prints one line: the version, and what it was built with.
func (versionCmd) Run(w *world) error {
	fmt.Fprintf(w.stdout, "Fully On %s\n", version())
	return nil
}

// version is the version of the module, the revision it was built from, or "devel".
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "devel"
	}
	v := info.Main.Version
	if v == "" || v == "(devel)" {
		v = "devel"
	}
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" && v == "devel" && len(s.Value) >= 12 {
			v += " " + s.Value[:12]
		}
	}
	return v
}
