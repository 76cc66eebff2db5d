import type { PageLoad } from './$types';

export const load: PageLoad = ({ params }) => ({ person: params.person });
