// Command tubewright makes full-size, mirror-image bending patterns for
// hand-bent luminous lettering: words, a face and a glass tube in, numbered
// bends out.
//
//	run.go      which command, and the exit status
//	flags.go    arguments → job.Values, with every setting of package job a flag
//	layout.go   job → letters in their places (package fonts → pattern.Letter)
//	make.go, check.go, trace.go, fonts.go, new.go   the commands
//	output.go   all files or none
//	console.go  the one place that speaks to the user
//
// Nothing else in the project touches files, flags, the clock or the
// environment.
package main

import "os"

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }
