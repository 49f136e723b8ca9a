package main

import "net"

// serveCmd serves on an address and from records of one's choice.
type serveCmd struct {
	Listen string `placeholder:"ADDRESS" help:"Address and port to listen on; without it the first free port from 4180 on, for this computer alone."`
	recordFlags
}

// Help shows an example.
func (serveCmd) Help() string {
	return "Example:\n\n    fullyon serve --listen 127.0.0.1:8080 --data records\n\n" +
		"One line with the address is printed. Stop it with Ctrl-C; what was answered is kept."
}

// Run serves until it is told to stop.
func (c serveCmd) Run(w *world) error {
	at, err := c.place(w)
	if err != nil {
		return err
	}
	var l net.Listener
	if c.Listen == "" {
		l, err = freePort(firstPort, lastPort)
	} else {
		l, err = listenOn(c.Listen)
	}
	if err != nil {
		return err
	}
	return w.serve(l, at)
}
