export const enReview = {};
