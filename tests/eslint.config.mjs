/** What the linter holds: likely mistakes, lines of at most 120 characters, and types that say what they are. */
import stylistic from "@stylistic/eslint-plugin";
import astro from "eslint-plugin-astro";
import tseslint from "typescript-eslint";

export default tseslint.config(
  { ignores: ["node_modules/", "dist/", ".rerig/", ".astro/", "public/", "src/starter/", "tests/fixtures/"] },
  ...tseslint.configs.recommended,
  ...astro.configs.recommended,
  {
    plugins: { "@stylistic": stylistic },
    rules: {
      "@stylistic/max-len": ["error", { code: 120, ignoreUrls: true, ignoreRegExpLiterals: true }],
      "@typescript-eslint/consistent-type-imports": ["error", { disallowTypeAnnotations: false }],
      "@typescript-eslint/no-non-null-assertion": "off",
      "@typescript-eslint/no-unused-vars": [
        "error",
        { argsIgnorePattern: "^_", varsIgnorePattern: "^_", ignoreRestSiblings: true },
      ],
      "@typescript-eslint/no-unused-expressions": "off",
      eqeqeq: ["error", "always", { null: "ignore" }],
      "no-shadow": "off",
      "prefer-const": "error",
    },
  },
);
