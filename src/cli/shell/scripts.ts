/** Shells that have a completion. */
export const shells = ['bash', 'zsh', 'fish'] as const;
export type Shell = (typeof shells)[number];

/** Each asks the program itself at every press, so that names are those of the farm; file names where it knows none. */
export const completionScripts: Readonly<Record<Shell, string>> = {
  bash: `# drybell: put into ~/.bashrc:  source <(drybell completion bash)
_drybell() {
  local cur=\${COMP_WORDS[COMP_CWORD]} quote= word
  # a name may have blanks, quotes and dollars: as typed it is quoted, the program knows it plain
  case $cur in
    [\\"\\']*) quote=\${cur:0:1} cur=\${cur:1} ;;
    *) cur=\${cur//\\\\/} ;;
  esac
  COMPREPLY=()
  while IFS= read -r word; do
    if [[ -z $quote ]]; then printf -v word %q "$word"; fi
    COMPREPLY+=("$word")
  done < <(drybell complete -- "\${COMP_WORDS[@]:1:COMP_CWORD-1}" "$cur" 2>/dev/null)
}
complete -o default -F _drybell drybell
`,
  zsh: `#compdef drybell
# drybell: put into ~/.zshrc after compinit:  source <(drybell completion zsh)
_drybell() {
  local -a found
  found=("\${(@f)$(drybell complete -- "\${(@Q)words[2,CURRENT-1]}" "\${(Q)PREFIX}" 2>/dev/null)}")
  if [[ -n "$found" ]]; then compadd -a found; else _files; fi
}
compdef _drybell drybell
`,
  fish: `# drybell: put into ~/.config/fish/config.fish:  drybell completion fish | source
function __drybell_next
  set -l typed (commandline -ct)
  set -l plain (string unescape -- $typed; or string replace -r '^["\\']' '' -- $typed)
  drybell complete -- (commandline -opc)[2..-1] "$plain" 2>/dev/null
end
complete -c drybell -a '(__drybell_next)'
`,
};
