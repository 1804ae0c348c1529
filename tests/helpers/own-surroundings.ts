// Whoever calls the suite (a terminal, a CI that forces colours) decides nothing about what it reads:
// programs started from here, and modules loaded here, write plain text. Node warns of both variables at once.
delete process.env['FORCE_COLOR'];
process.env['NO_COLOR'] = '1';
// Nor about who may read what is written here; nor does a file before that made itself private in this process.
process.umask(0o022);
