// The letters in a browser: readable by everybody, offline, by keyboard, on a telephone, and on paper.
//
//     node check.mjs LETTER.html…
//
// Needs Chromium (CHROMIUM names it, else /usr/bin/chromium) and pdftotext of poppler-utils.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import axe from 'axe-core';
import { chromium } from 'playwright-core';

const SCHEMES = ['light', 'dark'];
// A desk, and the narrowest page that WCAG 2.2, 1.4.10 asks to be read without moving it sideways.
const WIDTHS = [1100, 320];
// In millimetres; margins as the letter's own style sets them.
const PAPERS = { A4: [210, 297], Letter: [215.9, 279.4] };
const [LEFT, RIGHT] = [20, 17];
const POINTS = 72 / 25.4;
const PIXELS = 96 / 25.4;
// In points: a letter may lean over the end of its line by so much.
const SLACK = 2;

const files = process.argv.slice(2).map((file) => resolve(file));
assert.ok(files.length > 0, 'name the letters to check');
const profile = mkdtempSync(join(tmpdir(), 'letters-'));
const browser = await chromium.launchPersistentContext(profile, {
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  headless: true,
  args: [
    '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run',
    '--disable-background-networking', '--disable-component-update', '--disable-sync',
  ],
});

/** A page that keeps to itself: whatever it fetches or complains of is kept. */
async function open(file, colorScheme, width) {
  const page = await browser.newPage();
  const [fetched, complaints] = [[], []];
  page.on('request', (request) => fetched.push(request.url()));
  page.on('console', (message) => complaints.push(message.text()));
  page.on('pageerror', (error) => complaints.push(String(error)));
  await page.setViewportSize({ width, height: 900 });
  await page.emulateMedia({ colorScheme });
  await page.goto(pathToFileURL(file).href);
  return { page, fetched, complaints };
}

const wide = (page) => page.evaluate(() => {
  const root = document.documentElement;
  const over = [...document.querySelectorAll('body *')].filter((element) =>
    !element.closest('svg, .drawing, .unseen, .skip, thead') && element.getBoundingClientRect().right > root.clientWidth + 1);
  return { width: root.scrollWidth, room: root.clientWidth, over: over.slice(0, 3).map((element) => element.outerHTML.slice(0, 120)) };
});

async function holds(page, what) {
  const { width, room, over } = await wide(page);
  assert.ok(width <= room && over.length === 0, `${what}: ${width} px wide in ${room}: ${over.join('\n')}`);
}

async function violations(page) {
  // Through the debugger, since the letter's own policy lets no script in.
  return page.evaluate(`${axe.source}; axe.run(document, { resultTypes: ['violations'] }).then((result) =>
    result.violations.map((one) => one.id + ': ' + one.nodes.slice(0, 3).map((node) => node.html + ' ' + node.failureSummary).join(' | ')))`);
}

/** Words in the drawing against what is behind them, which axe does not look at (WCAG 2.2, 1.4.3). */
const faint = (page) => page.evaluate(() => {
  const parts = (colour) => colour.match(/[\d.]+/g).slice(0, 3).map(Number);
  const light = (colour) => {
    const [r, g, b] = parts(colour).map((part) => {
      const share = part / 255;
      return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const style = (element) => getComputedStyle(element);
  return [...document.querySelectorAll('svg text')].flatMap((text) => {
    const plate = text.closest('g.tag')?.querySelector('rect');
    const behind = plate && style(plate).fill !== 'none' ? style(plate).fill : style(text.closest('.letter')).backgroundColor;
    const [a, b] = [light(style(text).fill), light(behind)].sort((x, y) => y - x);
    const contrast = (a + 0.05) / (b + 0.05);
    return contrast < 4.5 ? [`${text.textContent}: ${contrast.toFixed(2)}`] : [];
  });
});

/** Every stop of the Tab key, from the first to the last. */
async function walk(page) {
  const all = await page.evaluate(() => {
    const stops = [...document.querySelectorAll('a[href], [tabindex="0"]')];
    stops.forEach((stop, index) => { stop.dataset.stop = index; });
    return stops.length;
  });
  for (let stop = 0; stop < all; stop += 1) {
    await page.keyboard.press('Tab');
    const seen = await page.evaluate(() => {
      const { dataset, outerHTML } = document.activeElement;
      const box = document.activeElement.getBoundingClientRect();
      const { outlineStyle, outlineWidth } = getComputedStyle(document.activeElement);
      const inside = box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth;
      return { stop: dataset.stop, ring: outlineStyle !== 'none' && parseFloat(outlineWidth) >= 2, inside, html: outerHTML.slice(0, 160) };
    });
    assert.equal(seen.stop, String(stop), `the Tab key stops in order: ${seen.html}`);
    assert.ok(seen.ring, `what has the focus is seen to have it: ${seen.html}`);
    assert.ok(seen.inside, `and is on the page: ${seen.html}`);
  }
  return all;
}

/** The first link leads past what stands before the letter. */
async function skips(page) {
  const to = await page.locator('a.skip').getAttribute('href');
  await page.locator('a.skip').focus();
  await page.keyboard.press('Enter');
  assert.equal(new URL(page.url()).hash, to);
}

/** Words of the printed letter, none of them beyond the margins. */
function printed(pdf, [wide_mm]) {
  const boxes = execFileSync('pdftotext', ['-bbox', pdf, '-'], { encoding: 'utf8', maxBuffer: 1 << 28 });
  const words = [...boxes.matchAll(/<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">(.*?)<\/word>/g)];
  assert.ok(words.length > 100, 'there are words on the paper');
  const out = words.filter(([, left, , right]) => left < LEFT * POINTS - SLACK || right > (wide_mm - RIGHT) * POINTS + SLACK);
  assert.deepEqual(out.map((word) => word[5]), [], 'words in the margins');
  const pages = [...boxes.matchAll(/<page width="([\d.]+)"/g)].map((page) => Number(page[1]));
  assert.ok(pages.every((page) => Math.abs(page - wide_mm * POINTS) < 1.5), `pages of ${pages[0]} points`);
  return pages.length;
}

try {
  for (const file of files) {
    const name = basename(file);
    for (const scheme of SCHEMES) {
      for (const width of WIDTHS) {
        const what = `${name}, ${scheme}, ${width} px`;
        const { page, fetched, complaints } = await open(file, scheme, width);
        assert.notEqual(await page.evaluate(() => getComputedStyle(document.querySelector('.letter')).maxWidth), 'none', `${what}: its style is let in`);
        assert.deepEqual(await violations(page), [], what);
        assert.deepEqual(await faint(page), [], what);
        await holds(page, what);
        const stops = await walk(page);
        await skips(page);
        assert.deepEqual(fetched, [pathToFileURL(file).href], `${what}: nothing else is fetched`);
        assert.deepEqual(complaints, [], what);
        await page.close();
        console.log(`ok  ${what}: ${stops} stops of the Tab key`);
      }
    }
    for (const [format, size] of Object.entries(PAPERS)) {
      const what = `${name} on ${format}`;
      const { page } = await open(file, 'dark', Math.floor((size[0] - LEFT - RIGHT) * PIXELS));
      await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
      await holds(page, what);
      const [ink, paper] = await page.evaluate(() => [getComputedStyle(document.body).color, getComputedStyle(document.body).backgroundColor]);
      assert.match(ink, /^rgb\((\d|[1-3]\d), /, `${what}: dark ink`);
      assert.equal(paper, 'rgba(0, 0, 0, 0)', `${what}: on bare paper`);
      const pdf = join(profile, `${name}-${format}.pdf`);
      await page.pdf({ path: pdf, format });
      const pages = printed(pdf, size);
      await page.close();
      console.log(`ok  ${what}: ${pages} pages`);
    }
  }
} finally {
  await browser.close();
  rmSync(profile, { recursive: true, force: true });
}
