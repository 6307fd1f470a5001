// Pictures for stories that send some: drawn in the browser, so that no file need lie here.

/** A JPEG of a sheet with an inked plate on it; `ink` from 0 to 1 says how dark the image came up. */
export async function proofPicture(page, { width = 900, height = 1200, ink = 0.6 } = {}) {
  const base64 = await page.evaluate(([wide, high, dark]) => {
    const canvas = document.createElement("canvas");
    [canvas.width, canvas.height] = [wide, high];
    const draw = canvas.getContext("2d");
    draw.fillStyle = "#f2ede0";
    draw.fillRect(0, 0, wide, high);
    for (let row = 0; row < 24; row += 1) {
      for (let column = 0; column < 18; column += 1) {
        const tone = dark * (0.25 + 0.75 * Math.abs(Math.sin((row + column) / 5)));
        draw.fillStyle = `rgba(25, 22, 20, ${tone})`;
        draw.fillRect(wide * (0.1 + (0.8 * column) / 18), high * (0.1 + (0.8 * row) / 24), wide / 24, high / 32);
      }
    }
    return canvas.toDataURL("image/jpeg", 0.85).split(",")[1];
  }, [width, height, ink]);
  return Buffer.from(base64, "base64");
}
