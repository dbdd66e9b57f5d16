// Undefined names are found by tsc, which knows the browser's.
import js from "@eslint/js";

export default [
  { ignores: ["**/node_modules/", "kit/checkcloth/page/bundles/"] },
  js.configs.recommended,
  {
    languageOptions: { ecmaVersion: 2022, sourceType: "module" },
    linterOptions: { reportUnusedDisableDirectives: "error" },
    rules: {
      complexity: ["error", 10],
      curly: ["error", "multi-line"],
      eqeqeq: "error",
      "no-undef": "off",
      "no-unused-vars": ["error", { caughtErrors: "all" }],
      "no-var": "error",
      "prefer-const": "error",
    },
  },
];
