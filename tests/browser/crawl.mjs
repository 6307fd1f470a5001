// Follows every same-origin link breadth first, as one visitor, within bounds.

/** What kind of page a path is: ids and numbers are named, a query keeps its keys only. */
export function patternOf(url) {
  const pathname = url.pathname
    .replace(/[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}/gi, ":id")
    .replace(/\b\d{4}-\d{2}-\d{2}\b/g, ":day")
    .replace(/(?<=\/)\d+(?=\/|$|\.)/g, ":n");
  const keys = [...new Set(url.searchParams.keys())].sort();
  return pathname + (keys.length > 0 ? `?${keys.join("&")}` : "");
}

/** The addresses a page links to, on the same origin, without fragments. Sign-out is a form, so no link changes anything. */
async function linksOf(page, origin) {
  const found = await page.evaluate(() => [...document.querySelectorAll("a[href], area[href]")].map((link) => link.href));
  return found.map((href) => new URL(href)).filter((url) => url.origin === origin).map((url) => {
    url.hash = "";
    return url;
  });
}

/**
 * Crawls from `start`. Each pattern is visited at most `each` times and no more than `most` addresses in all;
 * `atPage(pattern, url)` is called at the first page of a pattern, `atRefusal(sentence)` for each broken link.
 * Returns {pages, files, patterns, left}: how many pages and files were answered, which patterns there are, and how
 * many addresses the bounds left unvisited.
 */
export async function crawl(visitor, start, { each = 3, most = 400, atPage, atRefusal }) {
  const first = new URL(start, visitor.address);
  const line = [{ url: first, from: "the start" }];
  const seen = new Set([first.href]);
  const visits = new Map();
  const result = { pages: 0, files: 0, patterns: visits, left: 0 };
  while (line.length > 0) {
    const { url, from } = line.shift();
    const pattern = patternOf(url);
    const before = visits.get(pattern) ?? 0;
    if (before >= each || result.pages + result.files >= most) {
      result.left += 1;
      continue;
    }
    visits.set(pattern, before + 1);
    const answer = await visitor.context.request.get(url.href);
    if (!answer.ok()) {
      atRefusal(`${url.pathname}${url.search} (linked from ${from}) was answered ${answer.status()}`);
      continue;
    }
    if (!/^text\/html\b/.test(answer.headers()["content-type"] ?? "")) {
      result.files += 1; // a table, a calendar, a picture: no page to look at
      continue;
    }
    await answer.dispose();
    await visitor.go(url.href);
    result.pages += 1;
    if (before === 0) await atPage(pattern, url);
    // A page that goes on by itself while it is read is read where it went.
    const links = await linksOf(visitor.page, first.origin).catch(async () => {
      await visitor.page.waitForLoadState("load");
      return linksOf(visitor.page, first.origin);
    });
    for (const next of links) {
      if (seen.has(next.href)) continue;
      seen.add(next.href);
      line.push({ url: next, from: `${url.pathname}${url.search}` });
    }
  }
  return result;
}
