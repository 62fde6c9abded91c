/**
 * A coverage report of one line a room: lines and branches reached, in per cent. Loaded by name from the settings of
 * the test runner, which wants CommonJS.
 */
const { relative } = require('node:path');

module.exports = class RoomsReport {
  constructor() {
    this.rooms = new Map();
  }

  execute(context) {
    context
      .getTree('flat')
      .visit({ onDetail: (node) => this.onDetail(node), onEnd: () => this.onEnd() }, context);
  }

  onDetail(node) {
    const file = relative(process.cwd(), node.getFileCoverage().path).replaceAll('\\', '/');
    const parts = file.split('/');
    const room = parts.length > 2 ? parts[1] : '(ground)';
    const { lines, branches } = node.getCoverageSummary();
    const sum = this.rooms.get(room) ?? { lines: [0, 0], branches: [0, 0] };
    for (const [kind, of] of [
      ['lines', lines],
      ['branches', branches],
    ]) {
      sum[kind][0] += of.covered;
      sum[kind][1] += of.total;
    }
    this.rooms.set(room, sum);
  }

  onEnd() {
    const percent = ([covered, total]) =>
      `${((100 * covered) / Math.max(total, 1)).toFixed(1)} %`.padStart(8);
    console.log('room           lines branches');
    for (const [room, { lines, branches }] of [...this.rooms].sort())
      console.log(`${room.padEnd(12)}${percent(lines)} ${percent(branches)}`);
  }
};
