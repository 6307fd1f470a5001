#!/usr/bin/env node
// Stands in for the program while the harness itself is tried: speaks as `tympan demo` does, lets two people in by a
// form, and has a few pages that link to each other, one of them to a page that is not there.

import { openLeaf } from "./leaf.mjs";

const page = (title, body) => `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title}</title>
<link rel="stylesheet" href="/leaf.css">
</head>
<body>
<main>
<h1>${title}</h1>
${body}
</main>
</body>
</html>
`;

const links = (...paths) => paths.map((path) => `<p><a href="${path}">Go to ${path}</a></p>`).join("\n");
const FORM = `<form method="post" action="/sign-in">
<p><label for="email">E-mail</label> <input type="email" id="email" name="email" autocomplete="username"></p>
<p><label for="password">Password</label> <input type="password" id="password" name="password" autocomplete="current-password"></p>
<p><button type="submit">Sign in</button></p>
</form>`;

async function signIn(request) {
  let body = "";
  for await (const piece of request) body += piece;
  const form = new URLSearchParams(body);
  if (request.method === "POST" && form.get("password") === "gum-and-talc") {
    const cookie = `who=${form.get("email").split("@")[0]}; HttpOnly; SameSite=Lax; Path=/`;
    return { status: 303, text: "", headers: { location: "/", "set-cookie": cookie } };
  }
  return { status: request.method === "POST" ? 422 : 200, text: page("Sign in", FORM) };
}

function home(request) {
  const who = /who=(\w+)/.exec(request.headers.cookie ?? "")?.[1];
  if (!who) return page("Studio", links("/sign-in"));
  const plates = [1, 2, 3, 4, 5].map((n) => `/plates/${n}`);
  return page(`Today, ${who}`, links(...plates, "/log.csv", ...(who === "odile" ? ["/lost"] : [])));
}

const plates = Object.fromEntries([1, 2, 3, 4, 5].map((n) => [`/plates/${n}`, page(`Plate ${n}`, links("/"))]));
const leaf = await openLeaf({
  "/favicon.ico": "",
  "/leaf.css": "body { margin: 1rem; font: 1rem/1.5 serif } a, button, input { display: inline-block; min-height: 48px; line-height: 48px; box-sizing: border-box }",
  "/": home, "/sign-in": signIn, ...plates,
  "/log.csv": { text: "plate,drops\r\n1,4\r\n", headers: { "content-type": "text/csv" } },
});
if (process.argv[2] !== "demo") throw new Error("the stand-in knows `demo` alone");
console.log(`a school for seed ${process.argv[process.argv.indexOf("--seed") + 1]}`);
console.log("sign-in student: wren@school.example gum-and-talc");
console.log("sign-in safety officer: odile@school.example gum-and-talc");
console.log(`address: ${leaf.address}`);
