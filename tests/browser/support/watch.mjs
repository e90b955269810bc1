// What a page says and asks for while a test runs.

// Starts listening; call it before the page opens anything.
export function watch(page) {
  const seen = { console: [], errors: [], hosts: new Set() };
  page.on("console", (message) => seen.console.push(`${message.type()}: ${message.text()}`));
  page.on("pageerror", (error) => seen.errors.push(String(error)));
  page.on("request", (request) => {
    const url = new URL(request.url());
    if (url.protocol !== "blob:" && url.protocol !== "data:") {
      seen.hosts.add(url.host);
    }
  });
  // Violations of the page's policy, as the browser words them.
  seen.violations = () => seen.console.filter((line) => /content security policy|refused to/i.test(line));
  return seen;
}
