package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"
)

func completionCommand(t *talk) *cobra.Command {
	return &cobra.Command{
		Use:   "completion bash|zsh|fish|powershell",
		Short: "write the completion script for a shell",
		Long: `Write a script that teaches a shell to complete verbs and flags.

  bash: source <(emberbeat completion bash)
  zsh:  emberbeat completion zsh > "${fpath[1]}/_emberbeat"
  fish: emberbeat completion fish > ~/.config/fish/completions/emberbeat.fish`,
		Example:   "  emberbeat completion bash\n  emberbeat completion fish",
		Args:      takes("SHELL"),
		ValidArgs: []string{"bash", "zsh", "fish", "powershell"},
		RunE: func(c *cobra.Command, args []string) error {
			if t.json {
				return usage(errNoJSON)
			}
			root := c.Root()
			write := map[string]func(io.Writer) error{
				"bash":       func(w io.Writer) error { return root.GenBashCompletionV2(w, true) },
				"zsh":        root.GenZshCompletion,
				"fish":       func(w io.Writer) error { return root.GenFishCompletion(w, true) },
				"powershell": root.GenPowerShellCompletionWithDesc,
			}[args[0]]
			if write == nil {
				return usage(fmt.Errorf("%q is no shell this knows; write bash, zsh, fish or powershell", args[0]))
			}
			return t.writeOut("", write)
		},
	}
}
