// The browser comes from the system (see DEVELOPERS.md): the install must not fetch one of its own.
module.exports = { skipDownload: true };
