// What a story stands on: the program running as a demo school, a browser, and visitors who sign in.
//
// Everything that follows from how the program speaks (its command line, the lines `demo` prints, the sign-in form)
// is in this file and nowhere else.

import { spawn } from "node:child_process";
import { createWriteStream, mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { createInterface } from "node:readline";
import { setTimeout as pause } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";
import { Visitor } from "./visitor.mjs";

export const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), "../..");
export const target = process.env.CARGO_TARGET_DIR ?? path.join(root, "target");
const binary = process.env.TYMPAN_BIN ?? path.join(target, "debug/tympan");

// A Tuesday afternoon in the term: the demo school is the same at every run when seed and instant are.
export const SEED = "1";
export const AT = "2026-11-10T19:20:00Z";
const START_SECONDS = 180; // a debug build makes the demo pictures slowly
const SIGN_IN = "/sign-in";

/** Reads one line that `tympan demo` prints, or null where the line says something else. */
export function readDemoLine(line) {
  const address = /^address: (http:\/\/\S+?)\/?$/.exec(line);
  if (address) return { address: address[1] };
  const signIn = /^sign-in ([^:]+): (\S+) (\S+)$/.exec(line);
  if (signIn) return { signIn: { role: signIn[1].trim(), email: signIn[2], password: signIn[3] } };
  return null;
}

/** A running demo school: `address`, `signIns` ({role, email, password}, the first of a role being the usual one). */
export class Demo {
  static started = 0;

  static async start({ at = AT, seed = SEED, more = [], program = binary } = {}) {
    const demo = new Demo();
    const logs = path.join(target, "browser");
    mkdirSync(logs, { recursive: true });
    Demo.started += 1;
    demo.log = path.join(logs, `demo-${Demo.started}.log`);
    demo.folder = mkdtempSync(path.join(tmpdir(), "tympan-demo-"));
    demo.signIns = [];
    const args = ["demo", "--seed", seed, "--at", at, "--listen", "127.0.0.1:0", ...more];
    demo.process = spawn(program, args, {
      cwd: demo.folder,
      env: { ...process.env, TMPDIR: demo.folder },
      stdio: ["ignore", "pipe", "pipe"],
    });
    process.once("exit", () => demo.process.kill());
    demo.ended = new Promise((tell) => {
      demo.process.on("error", (error) => tell(`${program} does not start: ${error.message}`));
      demo.process.on("exit", (code, signal) => tell(`the program ended (${signal ?? `code ${code}`}); see ${demo.log}`));
    });
    const log = createWriteStream(demo.log);
    const said = [];
    for (const stream of [demo.process.stdout, demo.process.stderr]) {
      createInterface({ input: stream }).on("line", (line) => {
        log.write(`${line}\n`);
        said.push(line);
        const read = readDemoLine(line);
        if (read?.address) demo.address = read.address;
        if (read?.signIn) demo.signIns.push(read.signIn);
        if (read) demo.lastRead = Date.now();
      });
    }
    try {
      await demo.#untilReady();
    } catch (error) {
      await demo.stop();
      throw new Error(`${error.message}\n${said.slice(-12).join("\n")}`);
    }
    return demo;
  }

  async #untilReady() {
    let over = null;
    this.ended.then((why) => (over = why));
    const deadline = Date.now() + START_SECONDS * 1000;
    while (Date.now() < deadline) {
      if (over) throw new Error(over);
      // The address and the sign-ins may come in either order, so the lines have to have come to rest.
      if (this.address && this.signIns.length > 0 && Date.now() - this.lastRead > 300) {
        const answer = await fetch(this.address, { redirect: "manual" }).catch(() => null);
        if (answer) return;
      }
      await pause(50);
    }
    throw new Error(`no address and sign-ins after ${START_SECONDS} s`);
  }

  signIn(role) {
    const found = this.signIns.find((one) => one.role === role);
    if (!found) throw new Error(`the demo names no sign-in “${role}”; it names ${this.signIns.map((one) => one.role)}`);
    return found;
  }

  async stop() {
    this.process.kill("SIGTERM");
    const left = await Promise.race([this.ended, pause(10_000, "late", { ref: false })]);
    if (left === "late") this.process.kill("SIGKILL");
    rmSync(this.folder, { recursive: true, force: true });
  }
}

/** One Chromium with a new, empty profile. It resolves no name and reaches nothing but this machine. */
export async function openBrowser() {
  return chromium.launch({
    executablePath: process.env.TYMPAN_CHROMIUM ?? "/usr/bin/chromium",
    headless: true,
    args: [
      "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
      "--disable-component-update", "--disable-sync", "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1",
    ],
  });
}

/** A visitor at `address`, not signed in, with a cookie jar of their own. */
export async function visit(browser, address, { width = "narrow", scheme = "light" } = {}) {
  return Visitor.arrive(browser, address, { width, scheme, pictures: path.join(target, "pictures") });
}

/** Signs a visitor in by the form, as a person would. The fields are found by what they tell a password manager. */
export async function signIn(visitor, { email, password }) {
  await visitor.go(SIGN_IN);
  await visitor.page.locator('input[autocomplete~="username"]').fill(email);
  await visitor.page.locator('input[autocomplete~="current-password"]').fill(password);
  await visitor.page.locator('main form[method="post"] button[type="submit"]').first().click();
  await visitor.page.waitForLoadState("load");
  if (new URL(visitor.page.url()).pathname === SIGN_IN) {
    throw new Error(`${email} could not sign in: ${await visitor.page.locator("main").innerText()}`);
  }
}
