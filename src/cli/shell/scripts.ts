/** Shells that have a completion. */
export const shells = ['bash', 'zsh', 'fish'] as const;
export type Shell = (typeof shells)[number];

/** Each asks the program itself at every press, so that names are those of the farm; file names where it knows none. */
export const completionScripts: Readonly<Record<Shell, string>> = {
  bash: `# drybell: put into ~/.bashrc:  source <(drybell completion bash)
_drybell() {
  local IFS=$'\\n'
  COMPREPLY=($(drybell complete -- "\${COMP_WORDS[@]:1:COMP_CWORD}" 2>/dev/null))
}
complete -o default -F _drybell drybell
`,
  zsh: `#compdef drybell
# drybell: put into ~/.zshrc after compinit:  source <(drybell completion zsh)
_drybell() {
  local -a found
  found=("\${(@f)$(drybell complete -- "\${(@)words[2,CURRENT]}" 2>/dev/null)}")
  if [[ -n "$found" ]]; then compadd -a found; else _files; fi
}
compdef _drybell drybell
`,
  fish: `# drybell: put into ~/.config/fish/config.fish:  drybell completion fish | source
complete -c drybell -a '(drybell complete -- (commandline -opc)[2..-1] (commandline -ct) 2>/dev/null)'
`,
};
