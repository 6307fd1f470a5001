import assert from "node:assert/strict";
import path from "node:path";
import { crawl, patternOf } from "../crawl.mjs";
import { Demo, readDemoLine, root, signIn } from "../harness.mjs";
import { openLeaf } from "../leaf.mjs";

export const title = "The harness finds what it is there to find";

const page = (body, head = "") => `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>A leaf</title>
<link rel="stylesheet" href="/leaf.css">
${head}</head>
<body>
<main>
<h1>A leaf</h1>
${body}
</main>
</body>
</html>
`;

const PAGES = {
  "/favicon.ico": "",
  "/leaf.css": "body { margin: 1rem; font: 1rem/1.5 serif } p a { padding-block: .4rem } button, a.alone { display: inline-block; min-height: 48px; line-height: 48px } .faint { color: #bbb; background: #fff } .wide { width: 30rem } .low { min-height: 0; line-height: 1 }",
  "/leaf.js": "throw new Error('the script stumbles')",
  "/loud.js": "console.error('the script complains')",
  "/good.html": page('<p>Dampen the paper, <a href="/other.html">then the slab</a>.</p>\n<form method="post" action="/good.html"><button type="submit">Pull</button></form>'),
  "/unnamed.html": page('<p><a class="alone" href="/good.html"></a></p>'),
  "/faint.html": page('<p class="faint">Grey on white</p>'),
  "/wide.html": page('<p class="wide">Wider than a phone</p>'),
  "/low.html": page('<button type="button" class="low">Too low for a glove</button>'),
  "/invalid.html": page("<p>No <i>end</p>"),
  "/styled.html": page('<p style="margin: 0">Styled in place</p>'),
  "/script.html": page("<p>A script</p>", '<script src="/leaf.js"></script>\n'),
  "/loud.html": page("<p>A script</p>", '<script src="/loud.js"></script>\n'),
  "/inline.html": page("<p>A script in the page</p><script>document.title = 'taken over'</script>"),
  "/elsewhere.html": page('<img src="http://192.0.2.1/plate.png" alt="A plate on another host">'),
  "/missing.html": page('<img src="/no-such.png" alt="A picture that is not there">'),
  "/refused.html": { status: 422, text: page("<p>Say how many drops.</p>") },
};

export default async function harness(story) {
  const leaf = await openLeaf(PAGES);
  story.atTheEnd(() => leaf.close());
  const visitor = await story.visitor(leaf);

  await story.check("a good page passes and its four pictures are taken", async () => {
    await visitor.go("/good.html");
    await visitor.look("leaf");
  });

  const looked = {
    "/unnamed.html": /link-name/, "/faint.html": /color-contrast/, "/wide.html": /wider than the sheet/,
    "/low.html": /“Too low for a glove” is \d+ px high/, "/invalid.html": /html close-order/,
    "/styled.html": /html no-inline-style/,
  };
  for (const [path, sentence] of Object.entries(looked)) {
    await story.check(`a look at ${path} says ${sentence.source}`, async () => {
      await visitor.go(path);
      await assert.rejects(visitor.look("leaf-wrong", { schemes: ["light"] }), sentence);
      visitor.takeComplaints(); // the styled page also breaks the content policy; heard below
    });
  }

  const heard = {
    "/styled.html": /content policy \(style-src/, "/script.html": /the script stumbles/, "/loud.html": /the script complains/,
    "/inline.html": /content policy \(script-src/, "/elsewhere.html": /asked another host|img-src/,
    "/missing.html": /no-such\.png was answered 404/, "/refused.html": /refused\.html was answered 422/,
  };
  for (const [path, sentence] of Object.entries(heard)) {
    await story.check(`the ear hears at ${path} ${sentence.source}`, async () => {
      await visitor.go(path);
      await visitor.page.waitForTimeout(100);
      assert.match(visitor.takeComplaints().join("\n"), sentence);
    });
  }

  await story.check("an answer that was expected is no fault, and one that was expected and did not come is", async () => {
    await visitor.expecting(422, () => visitor.go("/refused.html"));
    assert.deepEqual(visitor.takeComplaints(), []);
    await assert.rejects(visitor.expecting(422, () => visitor.go("/good.html")), /an answer 422 was expected; there came 200/);
  });

  await story.check("the lines of the demo are read", async () => {
    assert.deepEqual(readDemoLine("address: http://127.0.0.1:8080/"), { address: "http://127.0.0.1:8080" });
    assert.deepEqual(readDemoLine("sign-in safety officer: ada@school.example one-two"),
      { signIn: { role: "safety officer", email: "ada@school.example", password: "one-two" } });
    assert.equal(readDemoLine("the demo school is in a temporary folder"), null);
  });

  await story.check("a demo is started, signed in to, crawled, and ends when it is told to", async () => {
    const demo = await story.ownDemo({ program: path.join(root, "tests/browser/stand-in.mjs") });
    assert.deepEqual(demo.signIns.map((one) => one.role), ["student", "safety officer"]);
    assert.throws(() => demo.signIn("dean"), /names no sign-in “dean”/);

    const walk = async (visitor) => {
      const [met, broken] = [[], []];
      const walked = await crawl(visitor, "/", { atPage: (pattern) => met.push(pattern), atRefusal: (sentence) => broken.push(sentence) });
      return { met, broken, walked };
    };
    const wren = await walk(await story.visitor(demo, "student"));
    assert.deepEqual(wren.met, ["/", "/plates/:n"]);
    assert.deepEqual([wren.walked.pages, wren.walked.files, wren.walked.left, wren.broken], [4, 1, 2, []]);
    const odile = await walk(await story.visitor(demo, "safety officer"));
    assert.deepEqual(odile.broken, ["/lost (linked from /) was answered 404"]);

    const stranger = await story.visitor(demo);
    await assert.rejects(signIn(stranger, { email: "wren@school.example", password: "wrong" }), /could not sign in/);
    assert.match(stranger.takeComplaints().join(), /answered 422/);
    await demo.stop();
    await assert.rejects(fetch(demo.address));
  });

  await story.check("a program that ends at once is told of", async () => {
    await assert.rejects(Demo.start({ program: "/bin/false" }), /the program ended \(code 1\)/);
    await assert.rejects(Demo.start({ program: "/no/such/program" }), /does not start/);
  });

  await story.check("pages of one kind have one pattern", async () => {
    const of = (path) => patternOf(new URL(path, "http://leaf"));
    assert.equal(of("/plates/0190b2d4-1234-7abc-8def-0123456789ab/etches/3?left=1&right=2&left=4"), "/plates/:id/etches/:n?left&right");
    assert.equal(of("/tonight/2026-11-10"), "/tonight/:day");
    assert.equal(of("/plates/12b"), "/plates/12b");
  });
}
