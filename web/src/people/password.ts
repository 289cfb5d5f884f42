// As the server asks (src/record/people.h): NIST SP 800-63B wants at least 8, and no rules beside.
export const shortestPassword = 10;
