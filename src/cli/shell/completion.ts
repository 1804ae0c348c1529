import { Argument, type Command } from 'commander';
import { programVersion } from '../program/program-version.js';
import { completionScripts, type Shell, shells } from './scripts.js';

const EXAMPLES = `
Examples:
  drybell completion bash         in ~/.bashrc: source <(drybell completion bash)
  drybell completion zsh          in ~/.zshrc after compinit: source <(drybell completion zsh)
  drybell completion fish         in ~/.config/fish/config.fish: drybell completion fish | source`;
const MANUAL_EXAMPLES = `
Example:
  drybell manual                  to read it: drybell manual | man -l -`;

/** `drybell completion`, `drybell manual`, and `drybell complete`, which the shells ask. */
export function register(program: Command): void {
  program
    .command('completion')
    .description('Print what makes a shell complete commands, options, and names of trays and benches.')
    .addArgument(new Argument('<shell>', 'which shell').choices(shells))
    .addHelpText('after', EXAMPLES)
    .action((shell: Shell) => void process.stdout.write(completionScripts[shell]));
  program
    .command('manual')
    .description('Print the manual page of all commands.')
    .addHelpText('after', MANUAL_EXAMPLES)
    .action(async () => {
      const { manualPage } = await import('./manual.js');
      process.stdout.write(manualPage(program, programVersion()));
    });
  program
    .command('complete', { hidden: true })
    .description('Print what may stand next; asked by the completion of a shell.')
    .argument('[words...]', 'what was typed, the word at hand last')
    .addHelpText('after', '\nExample:\n  drybell complete -- tray germi')
    .action(async (words: string[]) => {
      const { completions } = await import('./complete.js');
      const names = async () => (await import('./known-names.js')).knownNames();
      for (const word of await completions(program, words.slice(0, -1), words.at(-1) ?? '', names))
        console.log(word);
    });
}
