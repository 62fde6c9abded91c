import { lostConnections } from './postgres-lost.js';

lostConnections({ cuts: 4, ends: 15 });
