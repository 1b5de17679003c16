import type { Command } from 'commander';
import type { ToolReport } from '../../pipeline/tools.ts';
import { inspectTools } from '../../pipeline/tools.ts';
import { EXIT } from '../exit-codes.ts';

const EXAMPLES = `
Examples:
  gemel doctor
  GEMEL_FFMPEG=/opt/ffmpeg/bin/ffmpeg gemel doctor

Exit code 2 when something that gemel needs is missing.`;

/** `gemel doctor`: what is installed, which programs are used, what is missing and how to get it. */
export function addDoctor(gemel: Command): void {
  gemel.command('doctor')
    .description('what is installed, which outside programs are used, what is missing and how to get it')
    .option('--json', 'as JSON')
    .addHelpText('after', EXAMPLES)
    .action(async (options: { readonly json?: boolean }) => {
      const tools = await inspectTools(gemel.getOptionValue('signal'));
      process.stdout.write(options.json === true ? `${JSON.stringify(tools, undefined, 2)}\n` : formatTools(tools));
      if (tools.some((tool) => tool.state === 'missing')) process.exitCode = EXIT.failed;
    });
}

function formatTools(tools: readonly ToolReport[]): string {
  const nameWidth = Math.max(...tools.map(({ name }) => name.length));
  return tools
    .map((tool) => {
      const head = `${tool.name.padEnd(nameWidth)}  ${tool.state.padEnd(7)}  ${tool.version ?? ''}`.trimEnd();
      const place = [tool.path, tool.from === undefined ? undefined : `from ${tool.from}`].filter((part) => part !== undefined).join(', ');
      const lines = [place, tool.words, tool.remedy === undefined ? '' : `→ ${tool.remedy}`].filter((line) => line !== '');
      return [head, ...lines.map((line) => `${' '.repeat(nameWidth + 2)}${line}`)].join('\n');
    })
    .join('\n')
    .concat('\n');
}
