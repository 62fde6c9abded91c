import { lostConnections } from './postgres-lost.js';

lostConnections({ cuts: 20, ends: 50 });
