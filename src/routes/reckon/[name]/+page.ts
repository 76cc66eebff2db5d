import { loadCutting } from '$lib/session/cutting.svelte';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params, parent }) => ({ name: params.name, kept: await loadCutting((await parent()).device.settings) });
