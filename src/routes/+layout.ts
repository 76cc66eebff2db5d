// Everything is computed on the device; the server only hands out files.
export const ssr = false;
export const prerender = false;
