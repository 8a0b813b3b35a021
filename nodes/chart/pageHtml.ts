/** The ground of the themes, as the pictures have it. */
const GROUND = { light: '#fdfcfa', dark: '#15181c', paper: '#ffffff' };

/** A page that holds one picture and nothing else: it asks for nothing and runs nothing. */
export function pageHtml(title: string, svg: string, theme: keyof typeof GROUND): string {
  const name = title.replace(/[&<>"']/g, (letter) => `&#${letter.charCodeAt(0)};`);
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${name}</title>
<style>body{margin:0;background:${GROUND[theme]}}svg{display:block;max-width:100%;height:auto;margin:0 auto}</style>
</head>
<body>
${svg}</body>
</html>
`;
}
