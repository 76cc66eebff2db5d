import scenario from '$procedures/demo/scenario.json';
import { seededChance } from '$lib/adapters/chance/seeded-chance';
import { SimulatedClock } from '$lib/adapters/clock/simulated-clock';
import type { DemoAnswer } from '$lib/adapters/demo/worker-invented-runs';
import { shippedEditions } from '$lib/adapters/editions/shipped-editions';
import { demoHistory, type DemoRun, offsetMinOf } from '$lib/demo/demo-history';
import type { Scenario } from '$lib/procedure/scenario';

const told = scenario as Scenario;

async function begin(): Promise<Generator<DemoRun>> {
	const wanted = [...new Set(['bench-loading', 'lift-out-visit', ...told.visits.map(({ procedure }) => procedure)])];
	const editions = new Map(await Promise.all(wanted.map(async (id) => [id, await shippedEditions.load(id)] as const)));
	return demoHistory(told, editions, {
		clockAt: (start, zone, boot) => new SimulatedClock({ wallMs: Date.parse(start), offsetMin: offsetMinOf(start), zone, boot }),
		ids: seededChance
	});
}

const worker = self as unknown as { onmessage: () => void; postMessage(answer: DemoAnswer): void };
const history = begin();

async function answer(): Promise<DemoAnswer> {
	try {
		const { value } = (await history).next();
		return value ? { run: { events: value.events, place: value.place, of: value.of } } : { done: true };
	} catch (fault) {
		return { fault: fault instanceof Error ? fault.message : String(fault) };
	}
}
worker.onmessage = () => void answer().then((told) => worker.postMessage(told));
