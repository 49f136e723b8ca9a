package main

// localCmd is the program without a command: pages for this computer alone.
type localCmd struct{}

// Run serves on the first free port.
func (localCmd) Run(w *world) error {
	at, err := recordFlags{}.place(w)
	if err != nil {
		return err
	}
	l, err := freePort(firstPort, lastPort)
	if err != nil {
		return err
	}
	return w.serve(l, at)
}
