package action

import (
	"errors"
	"regexp"
	"strings"

	"github.com/alecthomas/kong"
)

// commandNames are the commands that a person types, in the order of the help.
var commandNames = []string{"demo", "water", "new", "survey", "weather", "set", "add", "underlay", "trace", "measure", "levels", "compare", "storm", "season", "account", "cautions", "propose", "fates", "methods", "export", "setout"}

// A saying is something the parser says, and what a person is told: $1 and on
// are the parts of it, COMMAND the command that was typed.
type saying struct {
	parser *regexp.Regexp
	person string
}

var sayings = []saying{
	{regexp.MustCompile(`^expected "(.+)"$`), "COMMAND needs $1"},
	{regexp.MustCompile(`^missing flags: (.+)$`), "COMMAND needs $1"},
	{regexp.MustCompile(`^(--\S+|<\S+>): expected .* but got "EOL".*$`), "$1 has no value; give one after it"},
	{regexp.MustCompile(`^(--\S+|<\S+>): expected a float but got (".*") \(.*$`), "$1 is $2; give a number"},
	{regexp.MustCompile(`^(--\S+): bool value must be .* but got (".*")$`), "$1 takes no value; leave out $2"},
	{regexp.MustCompile(`^unknown flag (--\S+), did you mean "(--\S+)"\?$`), "COMMAND has no flag $1; did you mean $2?"},
	{regexp.MustCompile(`^unknown flag (-\S+?)(, did .*)?$`), "COMMAND has no flag $1"},
	{regexp.MustCompile(`^unexpected argument (.*?)(, did you mean .*)?$`), `"$1" is one too many for COMMAND`},
	{regexp.MustCompile(`^flag (--\S+) applies to the default command .*$`), "$1 is for the window; leave it out"},
	{regexp.MustCompile(`^(--\S+|<\S+>): (the .*)$`), "$2"}, // a sentence of our own
}

// argument is how the parser writes a name that stands for what is to be given.
var argument = regexp.MustCompile(`<(\S+?)>`)

// misreading says for a person what is wrong with args, of which the parser said err.
func misreading(args []string, err error) string {
	name := "runnel"
	var at *kong.ParseError
	if errors.As(err, &at) && at.Context.Selected() != nil {
		name = at.Context.Selected().Name
	}
	if name == "window" {
		name = "runnel"
		if unknown := unknownCommand(args[0]); unknown != "" {
			return unknown
		}
	}
	told := err.Error()
	for _, s := range sayings {
		if s.parser.MatchString(told) {
			told = s.parser.ReplaceAllString(told, strings.ReplaceAll(s.person, "COMMAND", name))
			break
		}
	}
	told = argument.ReplaceAllStringFunc(told, func(one string) string { return strings.ToUpper(strings.Trim(one, "<>")) })
	if name == "runnel" {
		return told + "; runnel --help lists the commands"
	}
	return told + "; runnel " + name + " --help tells what it takes"
}

// unknownCommand returns the sentence for a word that can only be meant as a
// command and is none; empty for what may be a file, a flag or a command.
func unknownCommand(word string) string {
	if word == "" || strings.HasPrefix(word, "-") || strings.ContainsAny(word, `./\`) {
		return ""
	}
	nearest, least := "", 3 // more than two letters off is another word
	for _, name := range commandNames {
		switch d := distance(word, name); {
		case d == 0:
			return ""
		case d < least:
			nearest, least = name, d
		}
	}
	all := strings.Join(commandNames[:len(commandNames)-1], ", ") + " and " + commandNames[len(commandNames)-1]
	if nearest != "" {
		return "there is no command or file " + quoted(word) + "; did you mean " + nearest + "? The commands are " + all
	}
	return "there is no command or file " + quoted(word) + "; the commands are " + all
}

func quoted(word string) string { return `"` + word + `"` }

// distance counts the letters to put in, take out or change to make b of a
// (Levenshtein 1966).
func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			change := diagonal
			if a[i] != b[j] {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}
