"""From a job to the plan of its boards, by cuts that go from edge to edge."""
