"""What a case becomes for others: the coach's page, a page to practise with, an exercise judged blind."""
