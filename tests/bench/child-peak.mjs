// Runs the command line and tells, when it ends, how long it took and its largest resident memory (getrusage): the last line of stderr.
import { pathToFileURL } from 'node:url';

const [, self, cli, ...args] = process.argv;
process.argv = [process.argv[0], cli, ...args];
process.on('exit', () => process.stderr.write(`\n${JSON.stringify({ self, ms: performance.now(), cpuMs: (process.resourceUsage().userCPUTime + process.resourceUsage().systemCPUTime) / 1000, peakKiB: process.resourceUsage().maxRSS })}\n`));
await import(pathToFileURL(cli).href);
