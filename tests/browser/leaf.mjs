// A server of a few given pages, to try the harness itself on.

import { createServer } from "node:http";
import { readFile } from "node:fs/promises";
import path from "node:path";

const POLICY = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";
const KINDS = { ".html": "text/html; charset=utf-8", ".css": "text/css", ".js": "text/javascript", ".png": "image/png", ".svg": "image/svg+xml" };

/** Serves `pages` (path to text, or to a function of the request giving {status, text}) and then the files of `folder`. */
export async function openLeaf(pages, folder) {
  const server = createServer(async (request, answer) => {
    const { pathname } = new URL(request.url, "http://leaf");
    const found = typeof pages[pathname] === "function" ? await pages[pathname](request) : pages[pathname];
    const status = found?.status ?? 200;
    let text = found?.text ?? found;
    const kind = KINDS[path.extname(pathname)] ?? KINDS[".html"];
    if (text === undefined && folder) text = await readFile(path.join(folder, path.normalize(pathname))).catch(() => undefined);
    answer.writeHead(text === undefined ? 404 : status, { "content-type": kind, "content-security-policy": POLICY, ...found?.headers });
    answer.end(text ?? "nothing here");
  });
  await new Promise((ready) => server.listen(0, "127.0.0.1", ready));
  const close = () => new Promise((closed) => { server.close(closed); server.closeAllConnections(); });
  return { address: `http://127.0.0.1:${server.address().port}`, close };
}
