import PDFDocument from 'pdfkit';
import { fromRoot } from '../root.ts';

const FONTS = fromRoot('node_modules', 'dejavu-fonts-ttf', 'ttf');
const MARGIN = 54;
const GREY = '#555555';

/** A document of running text and tables, to be printed. Tagged, so that it can be read aloud. */
export interface Pdf {
  heading(text: string, level?: 1 | 2): void;
  para(text: string, how?: { readonly bold?: boolean; readonly quiet?: boolean }): void;
  /** What is said of one thing, a line each: `Student  Ana Ruiz`. Blank values are left out. */
  facts(facts: readonly (readonly [string, string])[]): void;
  /** `widths` are shares of the line. */
  table(columns: readonly string[], widths: readonly number[], rows: readonly (readonly string[])[]): void;
  nextPage(): void;
  /** The whole file; nothing can be written any more. */
  end(): Promise<Buffer>;
}

/**
 * A new document, US letter. `foot` stands on every page with its number. Letters of Latin, Greek, Cyrillic and some more scripts can be printed; others
 * come out as a box.
 */
export function newPdf(given: { readonly title: string; readonly foot: string; readonly at: string }): Pdf {
  const doc = new PDFDocument({
    ...{ size: 'LETTER', margin: MARGIN, bufferPages: true, tagged: true, lang: 'en-GB' },
    ...{ displayTitle: true, pdfVersion: '1.7' },
    info: {
      Title: given.title,
      Producer: 'Dialbench',
      Creator: 'Dialbench',
      CreationDate: new Date(given.at),
    },
  });
  doc.registerFont('text', `${FONTS}/DejaVuSansCondensed.ttf`);
  doc.registerFont('bold', `${FONTS}/DejaVuSansCondensed-Bold.ttf`);
  const pieces: Buffer[] = [];
  doc.on('data', (piece: Buffer) => pieces.push(piece));
  const width = doc.page.width - 2 * MARGIN;
  const bottom = () => doc.page.height - MARGIN - 14;
  const tagged = (kind: string, draw: () => void) => doc.addStructure(doc.struct(kind, {}, draw));
  const room = (height: number) => {
    if (doc.y + height > bottom()) doc.addPage();
  };

  return {
    heading(text, level = 1) {
      room(60);
      if (doc.y > MARGIN) doc.y += level === 1 ? 8 : 10;
      tagged(`H${level}`, () => {
        doc
          .font('bold')
          .fontSize(level === 1 ? 18 : 12.5)
          .fillColor('black')
          .text(text, MARGIN, doc.y, { width });
      });
      doc.y += 4;
    },
    para(text, { bold = false, quiet = false } = {}) {
      if (text === '') return;
      doc.font(bold ? 'bold' : 'text').fontSize(quiet ? 8.5 : 10);
      room(Math.min(doc.heightOfString(text, { width }), 200));
      tagged('P', () => {
        doc.fillColor(quiet ? GREY : 'black').text(text, MARGIN, doc.y, { width });
      });
      doc.y += 3;
    },
    facts(facts) {
      for (const [name, value] of facts) {
        if (value === '') continue;
        doc.font('text').fontSize(10);
        const height = doc.heightOfString(value, { width: width - 130 });
        room(height);
        const top = doc.y;
        tagged('P', () => {
          doc.fillColor(GREY).text(name, MARGIN, top, { width: 124 });
          doc.fillColor('black').text(value, MARGIN + 130, top, { width: width - 130 });
        });
        doc.y = top + height + 2;
      }
      doc.y += 3;
    },
    table(columns, widths, rows) {
      const all = widths.reduce((sum, one) => sum + one, 0);
      const across = widths.map((one) => (one / all) * width);
      const left = across.map((_, index) => across.slice(0, index).reduce((sum, one) => sum + one, MARGIN));
      const table = doc.struct('Table');
      doc.addStructure(table);
      const line = (cells: readonly string[], isHead: boolean) => {
        doc.font(isHead ? 'bold' : 'text').fontSize(8.5);
        const heights = cells.map((cell, index) =>
          doc.heightOfString(cell || ' ', { width: (across[index] ?? 0) - 6 }),
        );
        const height = Math.max(...heights) + 5;
        if (doc.y + height > bottom()) {
          doc.addPage();
          if (!isHead) line(columns, true);
          doc.font('text').fontSize(8.5);
        }
        const top = doc.y;
        const row = doc.struct('TR');
        table.add(row);
        cells.forEach((cell, index) => {
          row.add(
            doc.struct(isHead ? 'TH' : 'TD', {}, () => {
              doc.fillColor('black').text(cell, left[index], top + 2, { width: (across[index] ?? 0) - 6 });
            }),
          );
        });
        row.end();
        doc.markContent('Artifact', { type: 'Layout' });
        doc
          .moveTo(MARGIN, top + height)
          .lineTo(MARGIN + width, top + height)
          .lineWidth(isHead ? 1 : 0.4)
          .strokeColor(isHead ? 'black' : '#999999')
          .stroke();
        doc.endMarkedContent();
        doc.y = top + height + 1;
      };
      line(columns, true);
      for (const row of rows) line(row, false);
      table.end();
      doc.y += 6;
    },
    nextPage() {
      doc.addPage();
    },
    end() {
      const { start, count } = doc.bufferedPageRange();
      for (let page = start; page < start + count; page += 1) {
        doc.switchToPage(page);
        // Below the margin, where text would begin a new page by itself.
        doc.page.margins.bottom = 0;
        doc.markContent('Artifact', { type: 'Pagination' });
        doc.font('text').fontSize(8).fillColor(GREY);
        doc.text(`${given.foot}`, MARGIN, doc.page.height - MARGIN + 8, {
          width: width - 60,
          lineBreak: false,
        });
        doc.text(`${page + 1} of ${count}`, MARGIN, doc.page.height - MARGIN + 8, {
          width,
          align: 'right',
          lineBreak: false,
        });
        doc.endMarkedContent();
      }
      return new Promise((resolve, reject) => {
        doc.on('end', () => resolve(Buffer.concat(pieces)));
        doc.on('error', reject);
        doc.end();
      });
    },
  };
}
