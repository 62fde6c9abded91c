/** The mutations of every day, many more of them. */
process.env.MUTATIONS = '10';
await import('./mutation.test.js');
