//go:build !race

package grader_test

const underRace = false
