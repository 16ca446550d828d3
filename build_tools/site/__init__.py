"""The finished site: templates, diagrams, security policy, worker, licences, proof and exchange.

In: views of pages. Out: files, and a folder in which every link, hash and licence was looked at.
"""
