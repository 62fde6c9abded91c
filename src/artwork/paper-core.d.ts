/** The core build of paper.js as an ES module; the package declares it for CommonJS alone. */
declare module 'paper/dist/paper-core.js' {
  import paper from 'paper';
  export default paper;
}
