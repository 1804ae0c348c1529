// Whoever calls the suite (a terminal, a CI that forces colours) decides nothing about what it reads:
// programs started from here, and modules loaded here, write plain text. Node warns of both variables at once.
delete process.env['FORCE_COLOR'];
process.env['NO_COLOR'] = '1';
