import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { PDFiumLibrary } from '@hyzyla/pdfium';
import { prepareZXingModule, type ReadResult, readBarcodes } from 'zxing-wasm/reader';

/** Two programs that share nothing with the writers: one that draws and reads PDF, one that reads symbols. */

const require = createRequire(import.meta.url);
prepareZXingModule({
  overrides: {
    wasmBinary: readFileSync(require.resolve('zxing-wasm/reader/zxing_reader.wasm')).buffer as ArrayBuffer,
  },
});

export interface Picture {
  readonly width: number;
  readonly height: number;
  /** Red, green, blue, opaqueness. */
  readonly data: Uint8ClampedArray;
}

export interface ReadPage {
  /** Units of 1/72 inch. */
  readonly width: number;
  readonly height: number;
  readonly text: string;
  readonly picture: Picture;
}

/** Dots a mm; ten are 254 an inch. */
export const DOTS = 10;

export async function readPdf(bytes: Uint8Array): Promise<ReadPage[]> {
  const library = await PDFiumLibrary.init();
  try {
    const document = await library.loadDocument(bytes);
    const pages: ReadPage[] = [];
    for (const page of document.pages()) {
      const { originalWidth: width, originalHeight: height } = page.getOriginalSize();
      // Before it is drawn: drawing closes the page.
      const text = page.getText();
      const drawn = await page.render({ scale: (DOTS * 25.4) / 72, render: 'bitmap' });
      const data = Uint8ClampedArray.from(drawn.data);
      pages.push({ width, height, text, picture: { width: drawn.width, height: drawn.height, data } });
    }
    document.destroy();
    return pages;
  } finally {
    library.destroy();
  }
}

export const readSymbols = ({ data, width, height }: Picture): Promise<ReadResult[]> =>
  readBarcodes({ data, width, height, colorSpace: 'srgb' } as ImageData, {
    formats: ['QRCode'],
    tryHarder: true,
    maxNumberOfSymbols: 20,
  });
