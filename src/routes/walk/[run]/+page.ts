import type { PageLoad } from './$types';

export const load: PageLoad = ({ params }) => ({ run: params.run });
