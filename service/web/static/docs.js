// Starts the description page. The viewer knows OpenAPI 3.0 only; what it needs of 3.1 it shows the same way.
"use strict";

async function showDescription() {
  const response = await fetch("/openapi.json");
  const description = await response.json();
  description.openapi = "3.0.3";
  window.SwaggerUIBundle({
    spec: description,
    dom_id: "#description",
    deepLinking: true,
    validatorUrl: null,
    presets: [window.SwaggerUIBundle.presets.apis],
    layout: "BaseLayout",
  });
}

showDescription();
