import { lostConnections } from './postgres-lost.js';

lostConnections({ cuts: 2, ends: 8 });
