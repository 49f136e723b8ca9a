package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"strings"

	"github.com/alecthomas/kong"
)

// commands are all commands of the program. Without one it serves one learner on this computer.
type commands struct {
	Local    localCmd    `cmd:"" default:"1" hidden:"" help:"Serve the lessons to this computer alone."`
	Serve    serveCmd    `cmd:"" help:"Serve the lessons on an address of your choice."`
	Practice practiceCmd `cmd:"" help:"Practise in the terminal."`
	List     listCmd     `cmd:"" help:"List lessons, templates, skills, parts or terms."`
	Draw     drawCmd     `cmd:"" help:"Draw one problem from a template."`
	Mark     markCmd     `cmd:"" help:"Mark answers to a drawn problem."`
	Size     sizeCmd     `cmd:"" help:"Size a circuit of your own and check it."`
	Choose   chooseCmd   `cmd:"" help:"Rank the parts of a drawer for a circuit."`
	Part     partCmd     `cmd:"" help:"Print a datasheet, of the drawer or generated."`
	Check    checkCmd    `cmd:"" help:"Check lessons and problem templates."`
	Backup   backupCmd   `cmd:"" help:"Copy all records into one file."`
	Restore  restoreCmd  `cmd:"" help:"Bring back the records of a backup."`
	Version  versionCmd  `cmd:"" help:"Print the version of the program."`
}

const about = `Learn how a microcontroller pin switches a load through a MOSFET. ` +
	`Without a command the lessons are served to this computer alone: open the address that is printed in a browser. ` +
	`"fullyon COMMAND --help" shows an example of each command.`

// run runs one command line and gives the exit status.
func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer, getenv func(string) string) (status int) {
	out := bufio.NewWriter(stdout)
	defer func() {
		if r := recover(); r != nil {
			if helped, ok := r.(helpShown); ok {
				status = int(helped)
			} else {
				fmt.Fprintf(stderr, "fullyon: the program made a mistake (%v); please report it with the command that you gave\n", r)
				status = internal
			}
		}
		if err := out.Flush(); err != nil && status == fine {
			fmt.Fprintf(stderr, "fullyon: the output could not be written: %v\n", err)
			status = internal
		}
	}()
	w := &world{ctx: ctx, stdin: stdin, stdout: out, stderr: stderr, getenv: getenv}
	err := command(w, args)
	status, say := statusOf(err)
	if say {
		fmt.Fprintf(stderr, "fullyon: %s\n", withoutPasswords(oneLine(err.Error())))
	}
	return status
}

// helpShown leaves the parser once it has printed help: it would go on otherwise.
type helpShown int

// command parses a command line and runs the command.
func command(w *world, args []string) error {
	parser, err := kong.New(&commands{},
		kong.Name("fullyon"), kong.Description(about),
		kong.Writers(w.stdout, w.stderr), kong.WithHyphenPrefixedParameters(true),
		kong.Exit(func(code int) { panic(helpShown(code)) }),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true, NoExpandSubcommands: true, WrapUpperBound: width}),
	)
	if err != nil {
		return err
	}
	c, err := parser.Parse(args)
	if err != nil {
		return bad("%w; see fullyon%s --help", err, named(args))
	}
	return c.Run(w)
}

// named is the command at the head of a command line, for a pointer to its help.
func named(args []string) string {
	if len(args) > 0 {
		switch args[0] {
		case "serve", "practice", "list", "draw", "mark", "size", "choose", "part", "check", "backup", "restore", "version":
			return " " + args[0]
		}
	}
	return ""
}

// oneLine keeps a message on one line.
func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }
